-- AlterTable
ALTER TABLE "dealer" ADD COLUMN     "minimum_amount" DECIMAL,
ADD COLUMN     "minimum_over" DECIMAL,
ADD COLUMN     "minimum_typed" TEXT,
ADD COLUMN     "ordering" TEXT NOT NULL DEFAULT '';

-- AlterTable
ALTER TABLE "item" ADD COLUMN     "produced_amount" DECIMAL,
ADD COLUMN     "produced_over" DECIMAL,
ADD COLUMN     "produced_typed" TEXT,
ADD COLUMN     "produced_unit" TEXT,
ADD COLUMN     "transfer_amount" DECIMAL,
ADD COLUMN     "transfer_destination" TEXT,
ADD COLUMN     "transfer_kind" TEXT,
ADD COLUMN     "transfer_of" TEXT,
ADD COLUMN     "transfer_on" DATE,
ADD COLUMN     "transfer_over" DECIMAL,
ADD COLUMN     "transfer_per" TEXT,
ADD COLUMN     "transfer_source" TEXT,
ADD COLUMN     "transfer_typed" TEXT,
ADD COLUMN     "use_over" TEXT,
ADD COLUMN     "used_amount" DECIMAL,
ADD COLUMN     "used_over" DECIMAL,
ADD COLUMN     "used_typed" TEXT,
ADD COLUMN     "used_unit" TEXT;

-- AlterTable
ALTER TABLE "quote" ADD COLUMN     "currency" TEXT,
ADD COLUMN     "gtin" TEXT NOT NULL DEFAULT '',
ADD COLUMN     "until" DATE;

-- CreateTable
CREATE TABLE "kitchen_exchange_rate" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "position" INTEGER NOT NULL,
    "currency" TEXT NOT NULL,
    "rate_amount" DECIMAL NOT NULL,
    "rate_over" DECIMAL NOT NULL,
    "source" TEXT NOT NULL,
    "told_on" DATE NOT NULL,

    CONSTRAINT "kitchen_exchange_rate_pkey" PRIMARY KEY ("kitchen_id","revision","position")
);

-- CreateTable
CREATE TABLE "quote_landed" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "position" INTEGER NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "way" TEXT NOT NULL,
    "amount_amount" DECIMAL,
    "amount_over" DECIMAL,
    "amount_typed" TEXT,
    "per" TEXT,
    "share_amount" DECIMAL,
    "share_over" DECIMAL,

    CONSTRAINT "quote_landed_pkey" PRIMARY KEY ("kitchen_id","revision","position")
);

-- CreateTable
CREATE TABLE "delivery" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "dealer" TEXT NOT NULL,
    "number" TEXT NOT NULL,
    "delivery_kind" TEXT NOT NULL,
    "billed_on" DATE NOT NULL,
    "note" TEXT NOT NULL,

    CONSTRAINT "delivery_pkey" PRIMARY KEY ("kitchen_id","revision")
);

-- CreateTable
CREATE TABLE "delivery_line" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "position" INTEGER NOT NULL,
    "key" TEXT NOT NULL,
    "item" TEXT NOT NULL,
    "packs_amount" DECIMAL,
    "packs_over" DECIMAL,
    "billed_amount" DECIMAL NOT NULL,
    "billed_over" DECIMAL NOT NULL,
    "billed_unit" TEXT NOT NULL,
    "billed_typed" TEXT,
    "price_amount" DECIMAL NOT NULL,
    "price_over" DECIMAL NOT NULL,
    "price_typed" TEXT,
    "per" TEXT NOT NULL,
    "amount_amount" DECIMAL,
    "amount_over" DECIMAL,
    "amount_typed" TEXT,
    "received_amount" DECIMAL,
    "received_over" DECIMAL,
    "received_unit" TEXT,
    "received_typed" TEXT,
    "lot" TEXT NOT NULL,
    "use_by" DATE,
    "note" TEXT NOT NULL,

    CONSTRAINT "delivery_line_pkey" PRIMARY KEY ("kitchen_id","revision","position")
);

-- CreateTable
CREATE TABLE "price_list" (
    "kitchen_id" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "dealer" TEXT NOT NULL,
    "file_name" TEXT NOT NULL,
    "hash" TEXT NOT NULL,
    "bytes" BYTEA NOT NULL,
    "read_at" TIMESTAMPTZ(3) NOT NULL,
    "read_by" TEXT NOT NULL,
    "layout" JSONB NOT NULL,
    "choices" JSONB NOT NULL,
    "version" INTEGER NOT NULL,
    "changed_at" TIMESTAMPTZ(3) NOT NULL,
    "changed_by" TEXT NOT NULL,
    "made_change" INTEGER,
    "dropped_at" TIMESTAMPTZ(3),
    "dropped_by" TEXT,

    CONSTRAINT "price_list_pkey" PRIMARY KEY ("kitchen_id","id")
);

-- CreateTable
CREATE TABLE "dealer_layout" (
    "kitchen_id" TEXT NOT NULL,
    "dealer" TEXT NOT NULL,
    "layout" JSONB NOT NULL,
    "changed_at" TIMESTAMPTZ(3) NOT NULL,
    "changed_by" TEXT NOT NULL,

    CONSTRAINT "dealer_layout_pkey" PRIMARY KEY ("kitchen_id","dealer")
);

-- CreateTable
CREATE TABLE "order_plan" (
    "kitchen_id" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "for_day" DATE,
    "body" JSONB NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "created_by" TEXT NOT NULL,
    "changed_at" TIMESTAMPTZ(3) NOT NULL,
    "changed_by" TEXT NOT NULL,
    "version" INTEGER NOT NULL,
    "dropped_at" TIMESTAMPTZ(3),
    "dropped_by" TEXT,

    CONSTRAINT "order_plan_pkey" PRIMARY KEY ("kitchen_id","id")
);

-- CreateTable
CREATE TABLE "program_key" (
    "kitchen_id" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "hash" TEXT NOT NULL,
    "may" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL,
    "created_by" TEXT NOT NULL,
    "last_used_at" TIMESTAMPTZ(3),
    "ended_at" TIMESTAMPTZ(3),
    "ended_by" TEXT,

    CONSTRAINT "program_key_pkey" PRIMARY KEY ("kitchen_id","id")
);

-- CreateIndex
CREATE INDEX "price_list_kitchen_id_dealer_hash_idx" ON "price_list"("kitchen_id", "dealer", "hash");

-- CreateIndex
CREATE UNIQUE INDEX "program_key_hash_key" ON "program_key"("hash");

-- AddForeignKey
ALTER TABLE "kitchen_exchange_rate" ADD CONSTRAINT "kitchen_exchange_rate_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "item" ADD CONSTRAINT "item_kitchen_id_transfer_of_fkey" FOREIGN KEY ("kitchen_id", "transfer_of") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "quote_landed" ADD CONSTRAINT "quote_landed_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "delivery" ADD CONSTRAINT "delivery_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "delivery" ADD CONSTRAINT "delivery_kitchen_id_dealer_fkey" FOREIGN KEY ("kitchen_id", "dealer") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "delivery_line" ADD CONSTRAINT "delivery_line_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "delivery_line" ADD CONSTRAINT "delivery_line_kitchen_id_item_fkey" FOREIGN KEY ("kitchen_id", "item") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "price_list" ADD CONSTRAINT "price_list_kitchen_id_fkey" FOREIGN KEY ("kitchen_id") REFERENCES "kitchen"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "price_list" ADD CONSTRAINT "price_list_kitchen_id_dealer_fkey" FOREIGN KEY ("kitchen_id", "dealer") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "dealer_layout" ADD CONSTRAINT "dealer_layout_kitchen_id_fkey" FOREIGN KEY ("kitchen_id") REFERENCES "kitchen"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "dealer_layout" ADD CONSTRAINT "dealer_layout_kitchen_id_dealer_fkey" FOREIGN KEY ("kitchen_id", "dealer") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "order_plan" ADD CONSTRAINT "order_plan_kitchen_id_fkey" FOREIGN KEY ("kitchen_id") REFERENCES "kitchen"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "program_key" ADD CONSTRAINT "program_key_kitchen_id_fkey" FOREIGN KEY ("kitchen_id") REFERENCES "kitchen"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

ALTER TABLE "fact" DROP CONSTRAINT "fact_kind_word";
ALTER TABLE "fact" ADD CONSTRAINT "fact_kind_word" CHECK ("kind" IN ('kitchen', 'dealer', 'item', 'quote', 'delivery', 'test', 'cut', 'spec', 'recipe', 'dish', 'menuPrice', 'sales'));
ALTER TABLE "quote" DROP CONSTRAINT "quote_basis_word";
ALTER TABLE "quote" ADD CONSTRAINT "quote_basis_word" CHECK ("basis" IN ('quoted', 'contract', 'market', 'invoice'));
ALTER TABLE "item" ADD CONSTRAINT "item_transfer_kind_word" CHECK ("transfer_kind" IN ('market', 'fixed', 'item'));
ALTER TABLE "item" ADD CONSTRAINT "item_transfer_of_kind" CHECK (split_part("transfer_of", ':', 1) IN ('item'));
ALTER TABLE "quote_landed" ADD CONSTRAINT "quote_landed_way_word" CHECK ("way" IN ('adds', 'takes-off'));
ALTER TABLE "delivery" ADD CONSTRAINT "delivery_kind_word" CHECK ("delivery_kind" IN ('invoice', 'credit'));
ALTER TABLE "delivery" ADD CONSTRAINT "delivery_dealer_kind" CHECK (split_part("dealer", ':', 1) IN ('dealer'));
ALTER TABLE "delivery_line" ADD CONSTRAINT "delivery_line_item_kind" CHECK (split_part("item", ':', 1) IN ('item'));
ALTER TABLE "program_key" ADD CONSTRAINT "program_key_may_word" CHECK ("may" IN ('read', 'write'));

ALTER TABLE "kitchen_exchange_rate" ADD CONSTRAINT "kitchen_exchange_rate_over_above_zero" CHECK ("rate_over" > 0);
ALTER TABLE "dealer" ADD CONSTRAINT "dealer_over_above_zero" CHECK ("minimum_over" > 0);
ALTER TABLE "item" ADD CONSTRAINT "item_transfer_over_above_zero" CHECK ("transfer_over" > 0 AND "produced_over" > 0 AND "used_over" > 0);
ALTER TABLE "quote_landed" ADD CONSTRAINT "quote_landed_over_above_zero" CHECK ("amount_over" > 0 AND "share_over" > 0);
ALTER TABLE "delivery_line" ADD CONSTRAINT "delivery_line_over_above_zero" CHECK ("packs_over" > 0 AND "billed_over" > 0 AND "price_over" > 0 AND "amount_over" > 0 AND "received_over" > 0);

CREATE TRIGGER "kitchen_exchange_rate_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "kitchen_exchange_rate" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "quote_landed_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "quote_landed" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "delivery_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "delivery" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
CREATE TRIGGER "delivery_line_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "delivery_line" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
