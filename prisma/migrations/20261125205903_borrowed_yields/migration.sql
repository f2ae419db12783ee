-- AlterTable
ALTER TABLE "cost_point" ADD COLUMN     "borrowed" JSONB;

-- AlterTable
ALTER TABLE "cut" ADD COLUMN     "borrowed_amount" DECIMAL,
ADD COLUMN     "borrowed_on" DATE,
ADD COLUMN     "borrowed_over" DECIMAL,
ADD COLUMN     "borrowed_source" TEXT,
ADD COLUMN     "borrowed_what" TEXT;

-- AlterTable
ALTER TABLE "dish_figures" ADD COLUMN     "plate_borrowed" JSONB;

-- AlterTable
ALTER TABLE "ripple" ADD COLUMN     "after_borrowed" JSONB,
ADD COLUMN     "before_borrowed" JSONB;

ALTER TABLE "cut" ADD CONSTRAINT "cut_over_above_zero" CHECK ("borrowed_over" > 0);
ALTER TABLE "cut" ADD CONSTRAINT "cut_borrowed_whole_or_not" CHECK (num_nulls("borrowed_amount", "borrowed_over", "borrowed_what", "borrowed_source", "borrowed_on") IN (0, 5));
