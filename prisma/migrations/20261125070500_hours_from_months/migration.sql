-- AlterTable
ALTER TABLE "seasons" ADD COLUMN     "hours_from_months" BOOLEAN;
