-- CreateTable
CREATE TABLE "block_sheet" (
    "kitchen_id" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "started_at" TIMESTAMPTZ(3) NOT NULL,
    "started_by" TEXT NOT NULL,
    "entry_no" INTEGER NOT NULL,
    "last_at" TIMESTAMPTZ(3) NOT NULL,
    "recorded_change" INTEGER,
    "put_away_at" TIMESTAMPTZ(3),
    "put_away_by" TEXT,

    CONSTRAINT "block_sheet_pkey" PRIMARY KEY ("kitchen_id","id")
);

-- CreateTable
CREATE TABLE "block_entry" (
    "kitchen_id" TEXT NOT NULL,
    "sheet_id" TEXT NOT NULL,
    "no" INTEGER NOT NULL,
    "id" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "received_at" TIMESTAMPTZ(3) NOT NULL,
    "by" TEXT NOT NULL,
    "by_person" TEXT,
    "body" JSONB NOT NULL,

    CONSTRAINT "block_entry_pkey" PRIMARY KEY ("kitchen_id","sheet_id","no")
);

-- CreateIndex
CREATE UNIQUE INDEX "block_entry_kitchen_id_sheet_id_id_key" ON "block_entry"("kitchen_id", "sheet_id", "id");

-- AddForeignKey
ALTER TABLE "block_sheet" ADD CONSTRAINT "block_sheet_kitchen_id_fkey" FOREIGN KEY ("kitchen_id") REFERENCES "kitchen"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "block_entry" ADD CONSTRAINT "block_entry_kitchen_id_sheet_id_fkey" FOREIGN KEY ("kitchen_id", "sheet_id") REFERENCES "block_sheet"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

CREATE TRIGGER "block_entry_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "block_entry" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
