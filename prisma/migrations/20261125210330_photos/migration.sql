-- CreateTable
CREATE TABLE "photo" (
    "kitchen_id" TEXT NOT NULL,
    "id" TEXT NOT NULL,
    "test_id" TEXT NOT NULL,
    "caption" TEXT NOT NULL,
    "bytes" INTEGER NOT NULL,
    "width" INTEGER NOT NULL,
    "height" INTEGER NOT NULL,
    "added_at" TIMESTAMPTZ(3) NOT NULL,
    "added_by" TEXT NOT NULL,
    "added_by_person" TEXT,
    "removed_at" TIMESTAMPTZ(3),
    "removed_by" TEXT,

    CONSTRAINT "photo_pkey" PRIMARY KEY ("kitchen_id","id")
);

-- CreateIndex
CREATE INDEX "photo_kitchen_id_test_id_idx" ON "photo"("kitchen_id", "test_id");

-- AddForeignKey
ALTER TABLE "photo" ADD CONSTRAINT "photo_kitchen_id_fkey" FOREIGN KEY ("kitchen_id") REFERENCES "kitchen"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;

-- What Prisma cannot say.
ALTER TABLE "photo" ADD CONSTRAINT "photo_removed_by_somebody" CHECK (("removed_at" IS NULL) = ("removed_by" IS NULL));
CREATE FUNCTION "photo_comes_and_goes"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF to_jsonb(NEW) - 'removed_at' - 'removed_by' IS DISTINCT FROM to_jsonb(OLD) - 'removed_at' - 'removed_by' THEN
    RAISE EXCEPTION 'a photo is removed or put back; nothing else of it changes' USING ERRCODE = 'restrict_violation';
  END IF;
  RETURN NEW;
END
$$;
CREATE TRIGGER "photo_comes_and_goes" BEFORE UPDATE ON "photo" FOR EACH ROW EXECUTE FUNCTION "photo_comes_and_goes"();
CREATE TRIGGER "photo_stays" BEFORE DELETE OR TRUNCATE ON "photo" FOR EACH STATEMENT EXECUTE FUNCTION "refuse_to_rewrite"();
