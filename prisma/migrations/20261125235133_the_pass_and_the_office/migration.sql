-- AlterTable
ALTER TABLE "dish_line" ADD COLUMN     "channel" TEXT NOT NULL DEFAULT 'any';

-- AlterTable
ALTER TABLE "item" ADD COLUMN     "allergens_on" DATE,
ADD COLUMN     "allergens_source" TEXT;

-- AlterTable
ALTER TABLE "kitchen_settings" ADD COLUMN     "budget_food_amount" DECIMAL,
ADD COLUMN     "budget_food_over" DECIMAL,
ADD COLUMN     "budget_food_typed" TEXT,
ADD COLUMN     "budget_guests_amount" DECIMAL,
ADD COLUMN     "budget_guests_over" DECIMAL,
ADD COLUMN     "budget_labour_amount" DECIMAL,
ADD COLUMN     "budget_labour_over" DECIMAL,
ADD COLUMN     "budget_labour_typed" TEXT,
ADD COLUMN     "budget_other_amount" DECIMAL,
ADD COLUMN     "budget_other_over" DECIMAL,
ADD COLUMN     "budget_other_typed" TEXT,
ADD COLUMN     "budget_period" TEXT,
ADD COLUMN     "budget_prime_amount" DECIMAL,
ADD COLUMN     "budget_prime_over" DECIMAL,
ADD COLUMN     "budget_profit_amount" DECIMAL,
ADD COLUMN     "budget_profit_over" DECIMAL,
ADD COLUMN     "budget_profit_typed" TEXT;

-- AlterTable
ALTER TABLE "portion_spec" ADD COLUMN     "mean_amount" DECIMAL,
ADD COLUMN     "mean_over" DECIMAL,
ADD COLUMN     "mean_typed" TEXT,
ADD COLUMN     "mean_unit" TEXT,
ADD COLUMN     "pieces_amount" DECIMAL,
ADD COLUMN     "pieces_over" DECIMAL,
ADD COLUMN     "weighed_amount" DECIMAL,
ADD COLUMN     "weighed_on" DATE,
ADD COLUMN     "weighed_over" DECIMAL;

-- CreateTable
CREATE TABLE "kitchen_section_target" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "position" INTEGER NOT NULL,
    "section" TEXT NOT NULL,
    "target_amount" DECIMAL NOT NULL,
    "target_over" DECIMAL NOT NULL,

    CONSTRAINT "kitchen_section_target_pkey" PRIMARY KEY ("kitchen_id","revision","position")
);

-- CreateTable
CREATE TABLE "kitchen_ending" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "position" INTEGER NOT NULL,
    "ending_amount" DECIMAL NOT NULL,
    "ending_over" DECIMAL NOT NULL,

    CONSTRAINT "kitchen_ending_pkey" PRIMARY KEY ("kitchen_id","revision","position")
);

-- CreateTable
CREATE TABLE "item_allergen" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "position" INTEGER NOT NULL,
    "allergen" TEXT NOT NULL,
    "trace" BOOLEAN NOT NULL,

    CONSTRAINT "item_allergen_pkey" PRIMARY KEY ("kitchen_id","revision","position")
);

-- CreateTable
CREATE TABLE "recipe_allowance" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "position" INTEGER NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "basis" TEXT NOT NULL,
    "share_amount" DECIMAL,
    "share_over" DECIMAL,
    "amount_amount" DECIMAL,
    "amount_over" DECIMAL,
    "amount_typed" TEXT,

    CONSTRAINT "recipe_allowance_pkey" PRIMARY KEY ("kitchen_id","revision","position")
);

-- CreateTable
CREATE TABLE "recipe_step" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "position" INTEGER NOT NULL,
    "text" TEXT NOT NULL,
    "degrees_amount" DECIMAL,
    "degrees_over" DECIMAL,
    "scale" TEXT,
    "held" TEXT,

    CONSTRAINT "recipe_step_pkey" PRIMARY KEY ("kitchen_id","revision","position")
);

-- CreateTable
CREATE TABLE "dish_allowance" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "position" INTEGER NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "basis" TEXT NOT NULL,
    "share_amount" DECIMAL,
    "share_over" DECIMAL,
    "amount_amount" DECIMAL,
    "amount_over" DECIMAL,
    "amount_typed" TEXT,

    CONSTRAINT "dish_allowance_pkey" PRIMARY KEY ("kitchen_id","revision","position")
);

-- CreateTable
CREATE TABLE "tryout" (
    "kitchen_id" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "created_by" TEXT NOT NULL,
    "changed_at" TIMESTAMPTZ(3) NOT NULL,
    "changed_by" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "moves" JSONB NOT NULL,
    "made_change" INTEGER,
    "dropped_at" TIMESTAMPTZ(3),
    "dropped_by" TEXT,

    CONSTRAINT "tryout_pkey" PRIMARY KEY ("kitchen_id","id")
);

-- AddForeignKey
ALTER TABLE "kitchen_section_target" ADD CONSTRAINT "kitchen_section_target_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "kitchen_ending" ADD CONSTRAINT "kitchen_ending_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "item_allergen" ADD CONSTRAINT "item_allergen_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "recipe_allowance" ADD CONSTRAINT "recipe_allowance_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "recipe_step" ADD CONSTRAINT "recipe_step_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "dish_allowance" ADD CONSTRAINT "dish_allowance_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "tryout" ADD CONSTRAINT "tryout_kitchen_id_fkey" FOREIGN KEY ("kitchen_id") REFERENCES "kitchen"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

ALTER TABLE "dish_line" ADD CONSTRAINT "dish_line_channel" CHECK ("channel" IN ('any', 'table', 'away'));
ALTER TABLE "recipe_allowance" ADD CONSTRAINT "recipe_allowance_basis" CHECK ("basis" IN ('on-cost', 'of-whole', 'money'));
ALTER TABLE "dish_allowance" ADD CONSTRAINT "dish_allowance_basis" CHECK ("basis" IN ('on-cost', 'of-whole', 'money'));
ALTER TABLE "recipe_step" ADD CONSTRAINT "recipe_step_scale" CHECK ("scale" IN ('F', 'C'));

CREATE TRIGGER "kitchen_section_target_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "kitchen_section_target" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "kitchen_ending_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "kitchen_ending" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "item_allergen_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "item_allergen" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "recipe_allowance_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "recipe_allowance" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "recipe_step_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "recipe_step" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "dish_allowance_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "dish_allowance" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
