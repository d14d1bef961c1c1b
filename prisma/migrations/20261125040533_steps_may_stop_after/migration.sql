-- AlterTable
ALTER TABLE "steps" ADD COLUMN     "may_stop_after" BOOLEAN;
