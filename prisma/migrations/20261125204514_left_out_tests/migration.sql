-- CreateTable
CREATE TABLE "cut_left_out" (
    "kitchen_id" TEXT NOT NULL,
    "revision" BIGINT NOT NULL,
    "position" INTEGER NOT NULL,
    "test" TEXT NOT NULL,
    "reason" TEXT NOT NULL,

    CONSTRAINT "cut_left_out_pkey" PRIMARY KEY ("kitchen_id","revision","position")
);

-- AddForeignKey
ALTER TABLE "cut_left_out" ADD CONSTRAINT "cut_left_out_kitchen_id_revision_fkey" FOREIGN KEY ("kitchen_id", "revision") REFERENCES "revision"("kitchen_id", "id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- AddForeignKey
ALTER TABLE "cut_left_out" ADD CONSTRAINT "cut_left_out_kitchen_id_test_fkey" FOREIGN KEY ("kitchen_id", "test") REFERENCES "fact"("kitchen_id", "key") ON DELETE RESTRICT ON UPDATE RESTRICT;

ALTER TABLE "cut_left_out" ADD CONSTRAINT "cut_left_out_test_kind" CHECK (split_part("test", ':', 1) IN ('test'));

CREATE TRIGGER "cut_left_out_stays" BEFORE UPDATE OR DELETE OR TRUNCATE ON "cut_left_out" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
