-- AlterTable
ALTER TABLE "delivery_runs" ADD COLUMN     "cancel_until" TIMESTAMPTZ(3),
ADD COLUMN     "cost_cents" BIGINT,
ADD COLUMN     "fee_cents" BIGINT;

-- AlterTable
ALTER TABLE "lifts" ADD COLUMN     "call_off_fee_cents" BIGINT,
ADD COLUMN     "call_off_hours" INTEGER;

-- AlterTable
ALTER TABLE "reminders" ADD COLUMN     "closed_reason" TEXT;

-- AlterTable
ALTER TABLE "seasons" ADD COLUMN     "brief_time" TEXT;

-- CreateTable
CREATE TABLE "visit_briefs" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "reminder_id" UUID,
    "purpose" TEXT NOT NULL,
    "day" DATE NOT NULL,
    "advice" TEXT NOT NULL,
    "turned_from" TEXT,
    "content" JSONB NOT NULL,
    "input" JSONB NOT NULL,
    "forecast_issued_at" TIMESTAMPTZ(3),
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "checked_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "visit_briefs_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "visit_weather_evidence" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "day" DATE NOT NULL,
    "content" JSONB NOT NULL,
    "observed" INTEGER NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "visit_weather_evidence_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "forecast_cases" (
    "visit_id" UUID NOT NULL,
    "series_id" UUID NOT NULL,
    "day" DATE NOT NULL,
    "lead_days" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "issued_at" TIMESTAMPTZ(3) NOT NULL,
    "forecast_share" DOUBLE PRECISION NOT NULL,
    "record_share" DOUBLE PRECISION,
    "good" BOOLEAN NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "forecast_cases_pkey" PRIMARY KEY ("visit_id","series_id","day","lead_days")
);

-- CreateIndex
CREATE UNIQUE INDEX "visit_briefs_reminder_id_key" ON "visit_briefs"("reminder_id");

-- CreateIndex
CREATE INDEX "visit_briefs_season_id_idx" ON "visit_briefs"("season_id");

-- CreateIndex
CREATE INDEX "visit_briefs_visit_id_made_at_idx" ON "visit_briefs"("visit_id", "made_at");

-- CreateIndex
CREATE INDEX "visit_weather_evidence_season_id_idx" ON "visit_weather_evidence"("season_id");

-- CreateIndex
CREATE UNIQUE INDEX "visit_weather_evidence_visit_id_day_key" ON "visit_weather_evidence"("visit_id", "day");

-- CreateIndex
CREATE INDEX "forecast_cases_series_id_idx" ON "forecast_cases"("series_id");

-- AddForeignKey
ALTER TABLE "visit_briefs" ADD CONSTRAINT "visit_briefs_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit_briefs" ADD CONSTRAINT "visit_briefs_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visits"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit_briefs" ADD CONSTRAINT "visit_briefs_reminder_id_fkey" FOREIGN KEY ("reminder_id") REFERENCES "reminders"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit_weather_evidence" ADD CONSTRAINT "visit_weather_evidence_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit_weather_evidence" ADD CONSTRAINT "visit_weather_evidence_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visits"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "forecast_cases" ADD CONSTRAINT "forecast_cases_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visits"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "forecast_cases" ADD CONSTRAINT "forecast_cases_series_id_fkey" FOREIGN KEY ("series_id") REFERENCES "weather_series"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- What the rows must be like.

ALTER TABLE "seasons"
  ADD CONSTRAINT "seasons_brief_time_check" CHECK ("brief_time" ~ '^(?:[01][0-9]|2[0-3]):[0-5][0-9]$');

ALTER TABLE "lifts"
  ADD CONSTRAINT "lifts_call_off_hours_check" CHECK ("call_off_hours" BETWEEN 0 AND 2000),
  ADD CONSTRAINT "lifts_call_off_fee_cents_check" CHECK ("call_off_fee_cents" BETWEEN 0 AND 9000000000000);

ALTER TABLE "delivery_runs"
  ADD CONSTRAINT "delivery_runs_cost_cents_check" CHECK ("cost_cents" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "delivery_runs_fee_cents_check" CHECK ("fee_cents" BETWEEN 0 AND 9000000000000);

ALTER TABLE "reminders"
  ADD CONSTRAINT "reminders_closed_reason_check" CHECK (char_length("closed_reason") BETWEEN 1 AND 500);

ALTER TABLE "visit_briefs"
  ADD CONSTRAINT "visit_briefs_purpose_check" CHECK ("purpose" IN ('day-before', 'on-the-day', 'newer-forecast')),
  ADD CONSTRAINT "visit_briefs_advice_check" CHECK ("advice" IN ('go', 'hold', 'cannot-say')),
  ADD CONSTRAINT "visit_briefs_turned_from_check" CHECK (
    "turned_from" IN ('go', 'hold', 'cannot-say') AND "turned_from" <> "advice"
  ),
  ADD CONSTRAINT "visit_briefs_content_check" CHECK (jsonb_typeof("content") = 'object' AND jsonb_typeof("input") = 'object');

ALTER TABLE "visit_weather_evidence"
  ADD CONSTRAINT "visit_weather_evidence_content_check" CHECK (jsonb_typeof("content") = 'object'),
  ADD CONSTRAINT "visit_weather_evidence_observed_check" CHECK ("observed" BETWEEN 0 AND 48);

ALTER TABLE "forecast_cases"
  ADD CONSTRAINT "forecast_cases_kind_check" CHECK ("kind" IN ('single', 'ensemble')),
  ADD CONSTRAINT "forecast_cases_lead_days_check" CHECK ("lead_days" BETWEEN 0 AND 30),
  ADD CONSTRAINT "forecast_cases_share_check" CHECK (
    "forecast_share" BETWEEN 0 AND 1 AND "record_share" BETWEEN 0 AND 1
  );
