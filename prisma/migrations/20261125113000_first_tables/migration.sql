-- CreateTable
CREATE TABLE "kitchen" (
    "id" TEXT NOT NULL,
    "change_no" INTEGER NOT NULL,
    "revision_no" BIGINT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "kitchen_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "change" (
    "kitchen_id" TEXT NOT NULL,
    "no" INTEGER NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "by" TEXT NOT NULL,
    "why" TEXT NOT NULL,
    "unmoved" INTEGER NOT NULL,
    "money_a_week" DECIMAL,
    "takings_a_week" DECIMAL,
    "usual_weeks" INTEGER NOT NULL,
    "usual_from" DATE,
    "usual_to" DATE,

    CONSTRAINT "change_pkey" PRIMARY KEY ("kitchen_id","no")
);

-- CreateTable
CREATE TABLE "fact" (
    "kitchen_id" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "first_revision" BIGINT NOT NULL,

    CONSTRAINT "fact_pkey" PRIMARY KEY ("kitchen_id","key")
);

-- CreateTable
CREATE TABLE "revision" (
    "kitchen_id" TEXT NOT NULL,
    "id" BIGINT NOT NULL,
    "fact" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "valid_from" DATE NOT NULL,
    "change_no" INTEGER NOT NULL,
    "replaces" BIGINT,
    "withdrawn" BOOLEAN NOT NULL,

    CONSTRAINT "revision_pkey" PRIMARY KEY ("kitchen_id","id")
);

-- CreateTable
CREATE TABLE "kitchen_settings" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "name" TEXT NOT NULL,
    "place" TEXT NOT NULL,
    "currency" TEXT NOT NULL,
    "locale" TEXT NOT NULL,
    "time_zone" TEXT NOT NULL,
    "measures" TEXT NOT NULL,
    "tax_amount" DECIMAL NOT NULL,
    "tax_over" DECIMAL NOT NULL,
    "target_amount" DECIMAL NOT NULL,
    "target_over" DECIMAL NOT NULL,
    "near_amount" DECIMAL NOT NULL,
    "near_over" DECIMAL NOT NULL,

    CONSTRAINT "kitchen_settings_pkey" PRIMARY KEY ("kitchen_id","revision")
);

-- CreateTable
CREATE TABLE "dealer" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "name" TEXT NOT NULL,
    "note" TEXT NOT NULL,

    CONSTRAINT "dealer_pkey" PRIMARY KEY ("kitchen_id","revision")
);

-- CreateTable
CREATE TABLE "item" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "name" TEXT NOT NULL,
    "section" TEXT NOT NULL,
    "specification" TEXT NOT NULL,
    "measured_by" TEXT NOT NULL,
    "dealer" TEXT,
    "density_amount" DECIMAL,
    "density_over" DECIMAL,
    "density_source" TEXT,
    "density_on" DATE,
    "each_amount" DECIMAL,
    "each_over" DECIMAL,
    "each_unit" TEXT,
    "each_typed" TEXT,
    "each_source" TEXT,
    "each_on" DATE,

    CONSTRAINT "item_pkey" PRIMARY KEY ("kitchen_id","revision")
);

-- CreateTable
CREATE TABLE "quote" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "item" TEXT NOT NULL,
    "dealer" TEXT NOT NULL,
    "price_amount" DECIMAL NOT NULL,
    "price_over" DECIMAL NOT NULL,
    "price_typed" TEXT,
    "per" TEXT NOT NULL,
    "basis" TEXT NOT NULL,
    "code" TEXT NOT NULL,
    "size_amount" DECIMAL NOT NULL,
    "size_over" DECIMAL NOT NULL,
    "size_unit" TEXT NOT NULL,
    "size_typed" TEXT,
    "catch_weight" BOOLEAN NOT NULL,

    CONSTRAINT "quote_pkey" PRIMARY KEY ("kitchen_id","revision")
);

-- CreateTable
CREATE TABLE "quote_pack_level" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "position" INTEGER NOT NULL,
    "count_amount" DECIMAL NOT NULL,
    "count_over" DECIMAL NOT NULL,
    "container" TEXT NOT NULL,

    CONSTRAINT "quote_pack_level_pkey" PRIMARY KEY ("kitchen_id","revision","position")
);

-- CreateTable
CREATE TABLE "yield_test" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "test_kind" TEXT NOT NULL,
    "origin" TEXT NOT NULL,
    "dealer" TEXT,
    "on" DATE NOT NULL,
    "cutter" TEXT NOT NULL,
    "pieces_amount" DECIMAL NOT NULL,
    "pieces_over" DECIMAL NOT NULL,
    "billed_amount" DECIMAL NOT NULL,
    "billed_over" DECIMAL NOT NULL,
    "billed_unit" TEXT NOT NULL,
    "billed_typed" TEXT,
    "price_amount" DECIMAL,
    "price_over" DECIMAL,
    "price_per" TEXT,
    "price_typed" TEXT,
    "step_amount" DECIMAL,
    "step_over" DECIMAL,
    "step_unit" TEXT,
    "step_typed" TEXT,
    "follows" TEXT,
    "note" TEXT NOT NULL,
    "cooking_method" TEXT,
    "cooking_temperature" TEXT,
    "cooking_end_point" TEXT,
    "cooking_time" TEXT,
    "trimmed_amount" DECIMAL,
    "trimmed_over" DECIMAL,
    "trimmed_unit" TEXT,
    "trimmed_typed" TEXT,
    "cooked_amount" DECIMAL,
    "cooked_over" DECIMAL,
    "cooked_unit" TEXT,
    "cooked_typed" TEXT,

    CONSTRAINT "yield_test_pkey" PRIMARY KEY ("kitchen_id","revision")
);

-- CreateTable
CREATE TABLE "yield_test_part" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "position" INTEGER NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "weight_amount" DECIMAL NOT NULL,
    "weight_over" DECIMAL NOT NULL,
    "weight_unit" TEXT NOT NULL,
    "weight_typed" TEXT,
    "value_amount" DECIMAL,
    "value_over" DECIMAL,
    "value_per" TEXT,
    "value_typed" TEXT,
    "value_of" TEXT,
    "market_amount" DECIMAL,
    "market_over" DECIMAL,
    "market_per" TEXT,
    "market_typed" TEXT,
    "further_amount" DECIMAL,
    "further_over" DECIMAL,
    "further_per" TEXT,
    "further_typed" TEXT,

    CONSTRAINT "yield_test_part_pkey" PRIMARY KEY ("kitchen_id","revision","position")
);

-- CreateTable
CREATE TABLE "yield_test_piece" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "part" INTEGER NOT NULL,
    "position" INTEGER NOT NULL,
    "weight_amount" DECIMAL NOT NULL,
    "weight_over" DECIMAL NOT NULL,
    "weight_unit" TEXT NOT NULL,
    "weight_typed" TEXT,

    CONSTRAINT "yield_test_piece_pkey" PRIMARY KEY ("kitchen_id","revision","part","position")
);

-- CreateTable
CREATE TABLE "cut" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "name" TEXT NOT NULL,
    "origin" TEXT NOT NULL,
    "part_key" TEXT NOT NULL,
    "repricing" TEXT,
    "joint" TEXT NOT NULL,
    "specification" TEXT NOT NULL,

    CONSTRAINT "cut_pkey" PRIMARY KEY ("kitchen_id","revision")
);

-- CreateTable
CREATE TABLE "cut_test" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "position" INTEGER NOT NULL,
    "test" TEXT NOT NULL,

    CONSTRAINT "cut_test_pkey" PRIMARY KEY ("kitchen_id","revision","position")
);

-- CreateTable
CREATE TABLE "portion_spec" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "cut" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "size_amount" DECIMAL NOT NULL,
    "size_over" DECIMAL NOT NULL,
    "size_unit" TEXT NOT NULL,
    "size_typed" TEXT,
    "tolerance_amount" DECIMAL,
    "tolerance_over" DECIMAL,
    "tolerance_unit" TEXT,
    "tolerance_typed" TEXT,
    "thickness" TEXT NOT NULL,
    "trim" TEXT NOT NULL,
    "costing" TEXT NOT NULL,
    "end_amount" DECIMAL,
    "end_over" DECIMAL,
    "end_per" TEXT,
    "end_typed" TEXT,

    CONSTRAINT "portion_spec_pkey" PRIMARY KEY ("kitchen_id","revision")
);

-- CreateTable
CREATE TABLE "recipe" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "name" TEXT NOT NULL,
    "section" TEXT NOT NULL,
    "method" TEXT NOT NULL,

    CONSTRAINT "recipe_pkey" PRIMARY KEY ("kitchen_id","revision")
);

-- CreateTable
CREATE TABLE "recipe_yield" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "position" INTEGER NOT NULL,
    "yield_amount" DECIMAL NOT NULL,
    "yield_over" DECIMAL NOT NULL,
    "yield_unit" TEXT NOT NULL,
    "yield_typed" TEXT,

    CONSTRAINT "recipe_yield_pkey" PRIMARY KEY ("kitchen_id","revision","position")
);

-- CreateTable
CREATE TABLE "recipe_line" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "position" INTEGER NOT NULL,
    "key" TEXT NOT NULL,
    "source" TEXT NOT NULL,
    "quantity_amount" DECIMAL NOT NULL,
    "quantity_over" DECIMAL NOT NULL,
    "quantity_unit" TEXT NOT NULL,
    "quantity_typed" TEXT,
    "note" TEXT NOT NULL,

    CONSTRAINT "recipe_line_pkey" PRIMARY KEY ("kitchen_id","revision","position")
);

-- CreateTable
CREATE TABLE "dish" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "name" TEXT NOT NULL,
    "section" TEXT NOT NULL,
    "note" TEXT NOT NULL,

    CONSTRAINT "dish_pkey" PRIMARY KEY ("kitchen_id","revision")
);

-- CreateTable
CREATE TABLE "dish_line" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "position" INTEGER NOT NULL,
    "key" TEXT NOT NULL,
    "source" TEXT NOT NULL,
    "quantity_amount" DECIMAL NOT NULL,
    "quantity_over" DECIMAL NOT NULL,
    "quantity_unit" TEXT NOT NULL,
    "quantity_typed" TEXT,
    "note" TEXT NOT NULL,
    "role" TEXT NOT NULL,

    CONSTRAINT "dish_line_pkey" PRIMARY KEY ("kitchen_id","revision","position")
);

-- CreateTable
CREATE TABLE "menu_price" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "dish" TEXT NOT NULL,
    "gross_amount" DECIMAL NOT NULL,
    "gross_over" DECIMAL NOT NULL,
    "gross_typed" TEXT,
    "tax_amount" DECIMAL,
    "tax_over" DECIMAL,
    "target_amount" DECIMAL,
    "target_over" DECIMAL,

    CONSTRAINT "menu_price_pkey" PRIMARY KEY ("kitchen_id","revision")
);

-- CreateTable
CREATE TABLE "sales_line" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "position" INTEGER NOT NULL,
    "dish" TEXT NOT NULL,
    "count_amount" DECIMAL NOT NULL,
    "count_over" DECIMAL NOT NULL,

    CONSTRAINT "sales_line_pkey" PRIMARY KEY ("kitchen_id","revision","position")
);

-- CreateTable
CREATE TABLE "ripple" (
    "kitchen_id" TEXT NOT NULL,
    "change_no" INTEGER NOT NULL,
    "position" INTEGER NOT NULL,
    "node_kind" TEXT NOT NULL,
    "node_id" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "before_amount" DECIMAL,
    "before_per" TEXT,
    "before_missing" JSONB,
    "after_amount" DECIMAL,
    "after_per" TEXT,
    "after_missing" JSONB,

    CONSTRAINT "ripple_pkey" PRIMARY KEY ("kitchen_id","change_no","position")
);

-- CreateTable
CREATE TABLE "dish_ripple" (
    "kitchen_id" TEXT NOT NULL,
    "change_no" INTEGER NOT NULL,
    "position" INTEGER NOT NULL,
    "dish_id" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "crossing" TEXT,
    "cost_change" DECIMAL,
    "points" DECIMAL,
    "sold_a_week" DECIMAL,
    "money_a_week" DECIMAL,

    CONSTRAINT "dish_ripple_pkey" PRIMARY KEY ("kitchen_id","change_no","position")
);

-- CreateTable
CREATE TABLE "dish_figures" (
    "kitchen_id" TEXT NOT NULL,
    "change_no" INTEGER NOT NULL,
    "position" INTEGER NOT NULL,
    "side" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "section" TEXT NOT NULL,
    "plate_amount" DECIMAL NOT NULL,
    "plate_missing" JSONB NOT NULL,
    "gross" DECIMAL,
    "net" DECIMAL,
    "tax_amount" DECIMAL NOT NULL,
    "tax_over" DECIMAL NOT NULL,
    "food_cost" DECIMAL,
    "target" DECIMAL NOT NULL,
    "own_target" BOOLEAN NOT NULL,
    "near" DECIMAL NOT NULL,
    "contribution" DECIMAL,
    "state" TEXT NOT NULL,

    CONSTRAINT "dish_figures_pkey" PRIMARY KEY ("kitchen_id","change_no","position","side")
);

-- CreateTable
CREATE TABLE "cost_point" (
    "kitchen_id" TEXT NOT NULL,
    "node_kind" TEXT NOT NULL,
    "node_id" TEXT NOT NULL,
    "change_no" INTEGER NOT NULL,
    "amount" DECIMAL,
    "per" TEXT NOT NULL,
    "missing" JSONB NOT NULL,

    CONSTRAINT "cost_point_pkey" PRIMARY KEY ("kitchen_id","node_kind","node_id","change_no")
);

-- CreateIndex
CREATE INDEX "revision_kitchen_id_kind_fact_valid_from_id_idx" ON "revision"("kitchen_id", "kind", "fact", "valid_from" DESC, "id" DESC);

-- CreateIndex
CREATE INDEX "revision_kitchen_id_change_no_idx" ON "revision"("kitchen_id", "change_no");

-- CreateIndex
CREATE UNIQUE INDEX "revision_kitchen_id_replaces_key" ON "revision"("kitchen_id", "replaces");

-- AddForeignKey
ALTER TABLE "change" ADD CONSTRAINT "change_kitchen_id_fkey" FOREIGN KEY ("kitchen_id") REFERENCES "kitchen"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "fact" ADD CONSTRAINT "fact_kitchen_id_fkey" FOREIGN KEY ("kitchen_id") REFERENCES "kitchen"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "revision" ADD CONSTRAINT "revision_kitchen_id_change_no_fkey" FOREIGN KEY ("kitchen_id", "change_no") REFERENCES "change"("kitchen_id", "no") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "revision" ADD CONSTRAINT "revision_kitchen_id_fact_fkey" FOREIGN KEY ("kitchen_id", "fact") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "revision" ADD CONSTRAINT "revision_kitchen_id_replaces_fkey" FOREIGN KEY ("kitchen_id", "replaces") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "kitchen_settings" ADD CONSTRAINT "kitchen_settings_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "dealer" ADD CONSTRAINT "dealer_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "item" ADD CONSTRAINT "item_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "item" ADD CONSTRAINT "item_kitchen_id_dealer_fkey" FOREIGN KEY ("kitchen_id", "dealer") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "quote" ADD CONSTRAINT "quote_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "quote" ADD CONSTRAINT "quote_kitchen_id_item_fkey" FOREIGN KEY ("kitchen_id", "item") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "quote" ADD CONSTRAINT "quote_kitchen_id_dealer_fkey" FOREIGN KEY ("kitchen_id", "dealer") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "quote_pack_level" ADD CONSTRAINT "quote_pack_level_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "yield_test" ADD CONSTRAINT "yield_test_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "yield_test" ADD CONSTRAINT "yield_test_kitchen_id_origin_fkey" FOREIGN KEY ("kitchen_id", "origin") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "yield_test" ADD CONSTRAINT "yield_test_kitchen_id_dealer_fkey" FOREIGN KEY ("kitchen_id", "dealer") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "yield_test" ADD CONSTRAINT "yield_test_kitchen_id_follows_fkey" FOREIGN KEY ("kitchen_id", "follows") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "yield_test_part" ADD CONSTRAINT "yield_test_part_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "yield_test_part" ADD CONSTRAINT "yield_test_part_kitchen_id_value_of_fkey" FOREIGN KEY ("kitchen_id", "value_of") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "yield_test_piece" ADD CONSTRAINT "yield_test_piece_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "cut" ADD CONSTRAINT "cut_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "cut" ADD CONSTRAINT "cut_kitchen_id_origin_fkey" FOREIGN KEY ("kitchen_id", "origin") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "cut_test" ADD CONSTRAINT "cut_test_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "cut_test" ADD CONSTRAINT "cut_test_kitchen_id_test_fkey" FOREIGN KEY ("kitchen_id", "test") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "portion_spec" ADD CONSTRAINT "portion_spec_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "portion_spec" ADD CONSTRAINT "portion_spec_kitchen_id_cut_fkey" FOREIGN KEY ("kitchen_id", "cut") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "recipe" ADD CONSTRAINT "recipe_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "recipe_yield" ADD CONSTRAINT "recipe_yield_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "recipe_line" ADD CONSTRAINT "recipe_line_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "recipe_line" ADD CONSTRAINT "recipe_line_kitchen_id_source_fkey" FOREIGN KEY ("kitchen_id", "source") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "dish" ADD CONSTRAINT "dish_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "dish_line" ADD CONSTRAINT "dish_line_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "dish_line" ADD CONSTRAINT "dish_line_kitchen_id_source_fkey" FOREIGN KEY ("kitchen_id", "source") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "menu_price" ADD CONSTRAINT "menu_price_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "menu_price" ADD CONSTRAINT "menu_price_kitchen_id_dish_fkey" FOREIGN KEY ("kitchen_id", "dish") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sales_line" ADD CONSTRAINT "sales_line_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "sales_line" ADD CONSTRAINT "sales_line_kitchen_id_dish_fkey" FOREIGN KEY ("kitchen_id", "dish") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "ripple" ADD CONSTRAINT "ripple_kitchen_id_change_no_fkey" FOREIGN KEY ("kitchen_id", "change_no") REFERENCES "change"("kitchen_id", "no") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "dish_ripple" ADD CONSTRAINT "dish_ripple_kitchen_id_change_no_fkey" FOREIGN KEY ("kitchen_id", "change_no") REFERENCES "change"("kitchen_id", "no") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "dish_figures" ADD CONSTRAINT "dish_figures_kitchen_id_change_no_position_fkey" FOREIGN KEY ("kitchen_id", "change_no", "position") REFERENCES "dish_ripple"("kitchen_id", "change_no", "position") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "cost_point" ADD CONSTRAINT "cost_point_kitchen_id_change_no_fkey" FOREIGN KEY ("kitchen_id", "change_no") REFERENCES "change"("kitchen_id", "no") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- From here on written by hand: what the schema file cannot say.

-- Which words a column may hold, and of which kind a reference must be.

ALTER TABLE "fact" ADD CONSTRAINT "fact_kind_word" CHECK ("kind" IN ('kitchen', 'dealer', 'item', 'quote', 'test', 'cut', 'spec', 'recipe', 'dish', 'menuPrice', 'sales'));
ALTER TABLE "fact" ADD CONSTRAINT "fact_key_is_kind_and_id" CHECK ("key" = "kind" || ':' || "id");
ALTER TABLE "revision" ADD CONSTRAINT "revision_kind_is_the_facts" CHECK (split_part("fact", ':', 1) = "kind");
ALTER TABLE "revision" ADD CONSTRAINT "revision_corrects_an_earlier_one" CHECK ("replaces" < "id");
ALTER TABLE "kitchen_settings" ADD CONSTRAINT "kitchen_settings_measures_word" CHECK ("measures" IN ('us', 'metric'));
ALTER TABLE "item" ADD CONSTRAINT "item_measured_by_word" CHECK ("measured_by" IN ('mass', 'volume', 'count'));
ALTER TABLE "item" ADD CONSTRAINT "item_dealer_kind" CHECK (split_part("dealer", ':', 1) IN ('dealer'));
ALTER TABLE "quote" ADD CONSTRAINT "quote_basis_word" CHECK ("basis" IN ('quoted', 'contract', 'invoice'));
ALTER TABLE "quote" ADD CONSTRAINT "quote_item_kind" CHECK (split_part("item", ':', 1) IN ('item'));
ALTER TABLE "quote" ADD CONSTRAINT "quote_dealer_kind" CHECK (split_part("dealer", ':', 1) IN ('dealer'));
ALTER TABLE "yield_test" ADD CONSTRAINT "yield_test_test_kind_word" CHECK ("test_kind" IN ('butcher', 'trim', 'cooking', 'drained', 'hydration'));
ALTER TABLE "yield_test" ADD CONSTRAINT "yield_test_origin_kind" CHECK (split_part("origin", ':', 1) IN ('item', 'cut'));
ALTER TABLE "yield_test" ADD CONSTRAINT "yield_test_dealer_kind" CHECK (split_part("dealer", ':', 1) IN ('dealer'));
ALTER TABLE "yield_test" ADD CONSTRAINT "yield_test_follows_kind" CHECK (split_part("follows", ':', 1) IN ('test'));
ALTER TABLE "yield_test_part" ADD CONSTRAINT "yield_test_part_role_word" CHECK ("role" IN ('main', 'by-product', 'discard', 'purge'));
ALTER TABLE "yield_test_part" ADD CONSTRAINT "yield_test_part_value_of_kind" CHECK (split_part("value_of", ':', 1) IN ('item', 'recipe'));
ALTER TABLE "cut" ADD CONSTRAINT "cut_origin_kind" CHECK (split_part("origin", ':', 1) IN ('item', 'cut'));
ALTER TABLE "cut" ADD CONSTRAINT "cut_repricing_word" CHECK ("repricing" IN ('by-factor', 'by-products-at-own-price'));
ALTER TABLE "cut" ADD CONSTRAINT "cut_joint_word" CHECK ("joint" IN ('sales-value', 'net-realizable', 'weight'));
ALTER TABLE "cut_test" ADD CONSTRAINT "cut_test_test_kind" CHECK (split_part("test", ':', 1) IN ('test'));
ALTER TABLE "portion_spec" ADD CONSTRAINT "portion_spec_cut_kind" CHECK (split_part("cut", ':', 1) IN ('cut'));
ALTER TABLE "portion_spec" ADD CONSTRAINT "portion_spec_costing_word" CHECK ("costing" IN ('by-weight', 'whole'));
ALTER TABLE "recipe_line" ADD CONSTRAINT "recipe_line_source_kind" CHECK (split_part("source", ':', 1) IN ('item', 'cut', 'spec', 'recipe'));
ALTER TABLE "dish_line" ADD CONSTRAINT "dish_line_source_kind" CHECK (split_part("source", ':', 1) IN ('item', 'cut', 'spec', 'recipe'));
ALTER TABLE "dish_line" ADD CONSTRAINT "dish_line_role_word" CHECK ("role" IN ('main', 'side', 'garnish', 'cover', 'packaging'));
ALTER TABLE "menu_price" ADD CONSTRAINT "menu_price_dish_kind" CHECK (split_part("dish", ':', 1) IN ('dish'));
ALTER TABLE "sales_line" ADD CONSTRAINT "sales_line_dish_kind" CHECK (split_part("dish", ':', 1) IN ('dish'));
ALTER TABLE "ripple" ADD CONSTRAINT "ripple_node_kind_word" CHECK ("node_kind" IN ('item', 'cut', 'spec', 'recipe'));
ALTER TABLE "cost_point" ADD CONSTRAINT "cost_point_node_kind_word" CHECK ("node_kind" IN ('item', 'cut', 'spec', 'recipe', 'dish'));
ALTER TABLE "dish_ripple" ADD CONSTRAINT "dish_ripple_crossing_word" CHECK ("crossing" IN ('over', 'back under'));
ALTER TABLE "dish_figures" ADD CONSTRAINT "dish_figures_side_word" CHECK ("side" IN ('before', 'after'));
ALTER TABLE "dish_figures" ADD CONSTRAINT "dish_figures_state_word" CHECK ("state" IN ('over', 'near', 'under', 'unpriced', 'incomplete'));

-- A denominator is above zero.
ALTER TABLE "kitchen_settings" ADD CONSTRAINT "kitchen_settings_over_above_zero" CHECK ("tax_over" > 0 AND "target_over" > 0 AND "near_over" > 0);
ALTER TABLE "item" ADD CONSTRAINT "item_over_above_zero" CHECK ("density_over" > 0 AND "each_over" > 0);
ALTER TABLE "quote" ADD CONSTRAINT "quote_over_above_zero" CHECK ("price_over" > 0 AND "size_over" > 0);
ALTER TABLE "quote_pack_level" ADD CONSTRAINT "quote_pack_level_over_above_zero" CHECK ("count_over" > 0);
ALTER TABLE "yield_test" ADD CONSTRAINT "yield_test_over_above_zero" CHECK ("pieces_over" > 0 AND "billed_over" > 0 AND "price_over" > 0 AND "step_over" > 0 AND "trimmed_over" > 0 AND "cooked_over" > 0);
ALTER TABLE "yield_test_part" ADD CONSTRAINT "yield_test_part_over_above_zero" CHECK ("weight_over" > 0 AND "value_over" > 0 AND "market_over" > 0 AND "further_over" > 0);
ALTER TABLE "yield_test_piece" ADD CONSTRAINT "yield_test_piece_over_above_zero" CHECK ("weight_over" > 0);
ALTER TABLE "portion_spec" ADD CONSTRAINT "portion_spec_over_above_zero" CHECK ("size_over" > 0 AND "tolerance_over" > 0 AND "end_over" > 0);
ALTER TABLE "recipe_yield" ADD CONSTRAINT "recipe_yield_over_above_zero" CHECK ("yield_over" > 0);
ALTER TABLE "recipe_line" ADD CONSTRAINT "recipe_line_over_above_zero" CHECK ("quantity_over" > 0);
ALTER TABLE "dish_line" ADD CONSTRAINT "dish_line_over_above_zero" CHECK ("quantity_over" > 0);
ALTER TABLE "menu_price" ADD CONSTRAINT "menu_price_over_above_zero" CHECK ("gross_over" > 0 AND "tax_over" > 0 AND "target_over" > 0);
ALTER TABLE "sales_line" ADD CONSTRAINT "sales_line_over_above_zero" CHECK ("count_over" > 0);
ALTER TABLE "dish_figures" ADD CONSTRAINT "dish_figures_over_above_zero" CHECK ("tax_over" > 0);

-- What is recorded stays as it was recorded: rows come in and are never changed or taken away. Only the kitchen's own
-- row counts on.
CREATE FUNCTION "refuse_to_rewrite"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'the rows of % are recorded for good: they are not updated or deleted', TG_TABLE_NAME
    USING ERRCODE = 'restrict_violation', HINT = 'Record a new revision that replaces the old one.';
END
$$;

CREATE TRIGGER "change_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "change" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "fact_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "fact" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "revision_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "revision" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "kitchen_settings_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "kitchen_settings" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "dealer_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "dealer" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "item_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "item" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "quote_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "quote" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "quote_pack_level_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "quote_pack_level" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "yield_test_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "yield_test" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "yield_test_part_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "yield_test_part" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "yield_test_piece_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "yield_test_piece" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "cut_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "cut" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "cut_test_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "cut_test" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "portion_spec_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "portion_spec" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "recipe_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "recipe" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "recipe_yield_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "recipe_yield" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "recipe_line_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "recipe_line" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "dish_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "dish" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "dish_line_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "dish_line" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "menu_price_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "menu_price" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "sales_line_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "sales_line" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "ripple_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "ripple" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "dish_ripple_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "dish_ripple" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "dish_figures_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "dish_figures" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "cost_point_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "cost_point" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
