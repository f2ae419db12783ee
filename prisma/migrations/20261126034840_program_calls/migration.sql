-- CreateTable
CREATE TABLE "program_call" (
    "kitchen_id" TEXT NOT NULL,
    "program" TEXT NOT NULL,
    "call" TEXT NOT NULL,
    "hash" TEXT NOT NULL,
    "change_no" INTEGER NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "program_call_pkey" PRIMARY KEY ("kitchen_id","program","call")
);

-- AddForeignKey
ALTER TABLE "program_call" ADD CONSTRAINT "program_call_kitchen_id_fkey" FOREIGN KEY ("kitchen_id") REFERENCES "kitchen"("id") ON DELETE RESTRICT ON UPDATE RESTRICT;
