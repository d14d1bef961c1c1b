-- AlterTable
ALTER TABLE "weather_series" ADD COLUMN     "elevation_m" DOUBLE PRECISION,
ADD COLUMN     "standard_offset_min" INTEGER NOT NULL DEFAULT 0,
ADD COLUMN     "typical_year" BOOLEAN NOT NULL DEFAULT false,
ADD COLUMN     "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
ADD COLUMN     "version" INTEGER NOT NULL DEFAULT 1;

-- CreateTable
CREATE TABLE "weather_series_years" (
    "series_id" UUID NOT NULL,
    "year" INTEGER NOT NULL,
    "hours" INTEGER NOT NULL,
    "first_at" TIMESTAMPTZ(3) NOT NULL,
    "last_at" TIMESTAMPTZ(3) NOT NULL,
    "gaps" INTEGER NOT NULL,
    "rain_hours" INTEGER NOT NULL,
    "wind_hours" INTEGER NOT NULL,
    "gust_hours" INTEGER NOT NULL,
    "fingerprint" TEXT NOT NULL,

    CONSTRAINT "weather_series_years_pkey" PRIMARY KEY ("series_id","year")
);

-- CreateTable
CREATE TABLE "weather_forecast_issues" (
    "series_id" UUID NOT NULL,
    "issued_at" TIMESTAMPTZ(3) NOT NULL,
    "fetched_at" TIMESTAMPTZ(3) NOT NULL,
    "first_at" TIMESTAMPTZ(3) NOT NULL,
    "last_at" TIMESTAMPTZ(3) NOT NULL,
    "members" INTEGER NOT NULL,
    "hours" INTEGER NOT NULL,

    CONSTRAINT "weather_forecast_issues_pkey" PRIMARY KEY ("series_id","issued_at")
);

-- CreateTable
CREATE TABLE "weather_feeds" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "series_id" UUID NOT NULL,
    "source" TEXT NOT NULL,
    "wanted_until" DATE NOT NULL,
    "last_tried_at" TIMESTAMPTZ(3),
    "last_good_at" TIMESTAMPTZ(3),
    "issued_at" TIMESTAMPTZ(3),
    "etag" TEXT,
    "last_modified" TEXT,
    "next_due_at" TIMESTAMPTZ(3) NOT NULL,
    "queued_at" TIMESTAMPTZ(3),
    "claimed_until" TIMESTAMPTZ(3),
    "fault" TEXT,
    "fault_since" TIMESTAMPTZ(3),
    "tries" INTEGER NOT NULL DEFAULT 0,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "weather_feeds_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "weather_imports" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "organisation_id" UUID NOT NULL,
    "series_id" UUID,
    "target_kind" TEXT NOT NULL,
    "target_key" TEXT NOT NULL,
    "season" TEXT NOT NULL,
    "file_name" TEXT NOT NULL,
    "options" JSONB NOT NULL DEFAULT '{}',
    "state" TEXT NOT NULL DEFAULT 'receiving',
    "bytes_total" BIGINT,
    "bytes_done" BIGINT NOT NULL DEFAULT 0,
    "lines_done" INTEGER NOT NULL DEFAULT 0,
    "bad_line_count" INTEGER NOT NULL DEFAULT 0,
    "bad_lines" JSONB NOT NULL DEFAULT '[]',
    "warnings" JSONB NOT NULL DEFAULT '[]',
    "result" JSONB,
    "fault" TEXT,
    "requested_by" TEXT NOT NULL,
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "heartbeat_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "started_at" TIMESTAMPTZ(3),
    "finished_at" TIMESTAMPTZ(3),
    "kept_until" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "weather_imports_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "weather_import_parts" (
    "import_id" UUID NOT NULL,
    "part" INTEGER NOT NULL,
    "bytes" BYTEA NOT NULL,

    CONSTRAINT "weather_import_parts_pkey" PRIMARY KEY ("import_id","part")
);

-- CreateTable
CREATE TABLE "weather_windows" (
    "content_key" TEXT NOT NULL,
    "series_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "result" JSONB NOT NULL,
    "made_at" TIMESTAMPTZ(3) NOT NULL,
    "used_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "weather_windows_pkey" PRIMARY KEY ("content_key")
);

-- CreateIndex
CREATE INDEX "weather_feeds_next_due_at_idx" ON "weather_feeds"("next_due_at");

-- CreateIndex
CREATE UNIQUE INDEX "weather_feeds_series_id_source_key" ON "weather_feeds"("series_id", "source");

-- CreateIndex
CREATE INDEX "weather_imports_organisation_id_created_at_idx" ON "weather_imports"("organisation_id", "created_at");

-- CreateIndex
CREATE INDEX "weather_imports_series_id_idx" ON "weather_imports"("series_id");

-- CreateIndex
CREATE INDEX "weather_windows_series_id_idx" ON "weather_windows"("series_id");

-- CreateIndex
CREATE INDEX "weather_windows_used_at_idx" ON "weather_windows"("used_at");

-- AddForeignKey
ALTER TABLE "weather_series_years" ADD CONSTRAINT "weather_series_years_series_id_fkey" FOREIGN KEY ("series_id") REFERENCES "weather_series"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "weather_forecast_issues" ADD CONSTRAINT "weather_forecast_issues_series_id_fkey" FOREIGN KEY ("series_id") REFERENCES "weather_series"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "weather_feeds" ADD CONSTRAINT "weather_feeds_series_id_fkey" FOREIGN KEY ("series_id") REFERENCES "weather_series"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "weather_imports" ADD CONSTRAINT "weather_imports_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "weather_imports" ADD CONSTRAINT "weather_imports_series_id_fkey" FOREIGN KEY ("series_id") REFERENCES "weather_series"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "weather_import_parts" ADD CONSTRAINT "weather_import_parts_import_id_fkey" FOREIGN KEY ("import_id") REFERENCES "weather_imports"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "weather_windows" ADD CONSTRAINT "weather_windows_series_id_fkey" FOREIGN KEY ("series_id") REFERENCES "weather_series"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- What the rows must be like.

ALTER TABLE "weather_series"
  ADD CONSTRAINT "weather_series_key_check" CHECK (char_length("key") BETWEEN 1 AND 200),
  ADD CONSTRAINT "weather_series_elevation_m_check" CHECK ("elevation_m" BETWEEN -500 AND 9000),
  ADD CONSTRAINT "weather_series_standard_offset_min_check" CHECK ("standard_offset_min" BETWEEN -840 AND 840);

ALTER TABLE "weather_series_years"
  ADD CONSTRAINT "weather_series_years_hours_check" CHECK ("hours" BETWEEN 1 AND 8784),
  ADD CONSTRAINT "weather_series_years_known_check" CHECK (
    "rain_hours" BETWEEN 0 AND "hours" AND "wind_hours" BETWEEN 0 AND "hours" AND "gust_hours" BETWEEN 0 AND "hours"
  ),
  ADD CONSTRAINT "weather_series_years_span_check" CHECK ("first_at" <= "last_at"),
  ADD CONSTRAINT "weather_series_years_gaps_check" CHECK ("gaps" >= 0),
  ADD CONSTRAINT "weather_series_years_fingerprint_check" CHECK ("fingerprint" ~ '^[0-9a-f]{64}$');

ALTER TABLE "weather_forecast_issues"
  ADD CONSTRAINT "weather_forecast_issues_span_check" CHECK ("first_at" <= "last_at"),
  ADD CONSTRAINT "weather_forecast_issues_members_check" CHECK ("members" BETWEEN 1 AND 1000),
  ADD CONSTRAINT "weather_forecast_issues_hours_check" CHECK ("hours" >= "members");

ALTER TABLE "weather_feeds"
  ADD CONSTRAINT "weather_feeds_source_check" CHECK ("source" ~ '^[a-z][a-z0-9-]{0,39}$'),
  ADD CONSTRAINT "weather_feeds_fault_check" CHECK (
    char_length("fault") BETWEEN 1 AND 1000 AND ("fault" IS NULL) = ("fault_since" IS NULL)
  ),
  ADD CONSTRAINT "weather_feeds_tries_check" CHECK ("tries" >= 0 AND ("tries" = 0) = ("fault" IS NULL));

ALTER TABLE "weather_imports"
  ADD CONSTRAINT "weather_imports_target_kind_check" CHECK ("target_kind" IN ('station', 'site')),
  ADD CONSTRAINT "weather_imports_target_key_check" CHECK ("target_key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "weather_imports_file_name_check" CHECK (char_length("file_name") BETWEEN 1 AND 300),
  ADD CONSTRAINT "weather_imports_state_check" CHECK ("state" IN ('receiving', 'queued', 'running', 'done', 'failed')),
  ADD CONSTRAINT "weather_imports_finished_check" CHECK (("state" IN ('done', 'failed')) = ("finished_at" IS NOT NULL)),
  ADD CONSTRAINT "weather_imports_fault_check" CHECK (("state" = 'failed') = ("fault" IS NOT NULL)),
  ADD CONSTRAINT "weather_imports_counts_check" CHECK (
    "bytes_done" >= 0 AND "bytes_total" >= 0 AND "lines_done" >= 0 AND "bad_line_count" >= 0 AND "attempts" >= 0
  ),
  ADD CONSTRAINT "weather_imports_lists_check" CHECK (
    jsonb_typeof("bad_lines") = 'array' AND jsonb_typeof("warnings") = 'array' AND jsonb_array_length("bad_lines") <= 200
  );

ALTER TABLE "weather_import_parts"
  ADD CONSTRAINT "weather_import_parts_part_check" CHECK ("part" >= 0),
  ADD CONSTRAINT "weather_import_parts_bytes_check" CHECK (octet_length("bytes") BETWEEN 1 AND 4194304);

ALTER TABLE "weather_windows"
  ADD CONSTRAINT "weather_windows_content_key_check" CHECK ("content_key" ~ '^[0-9a-f]{64}$'),
  ADD CONSTRAINT "weather_windows_kind_check" CHECK ("kind" ~ '^[a-z][a-z-]{0,39}$');

CREATE TRIGGER touch BEFORE UPDATE ON "weather_series" FOR EACH ROW WHEN (OLD.* IS DISTINCT FROM NEW.*)
  EXECUTE FUNCTION "touch_row"();
CREATE TRIGGER touch BEFORE UPDATE ON "weather_feeds" FOR EACH ROW WHEN (OLD.* IS DISTINCT FROM NEW.*)
  EXECUTE FUNCTION "touch_row"();
CREATE TRIGGER touch BEFORE UPDATE ON "weather_imports" FOR EACH ROW WHEN (OLD.* IS DISTINCT FROM NEW.*)
  EXECUTE FUNCTION "touch_row"();

-- One row a year that a series holds, from its hours as they are now; a year without hours has none.

CREATE FUNCTION "note_weather_year"(series uuid, in_year integer) RETURNS void LANGUAGE plpgsql AS $$
DECLARE
  low timestamptz := make_timestamptz(in_year, 1, 1, 0, 0, 0, 'UTC');
  high timestamptz := make_timestamptz(in_year + 1, 1, 1, 0, 0, 0, 'UTC');
BEGIN
  DELETE FROM "weather_series_years" WHERE series_id = series AND year = in_year;
  INSERT INTO "weather_series_years"
    (series_id, year, hours, first_at, last_at, gaps, rain_hours, wind_hours, gust_hours, fingerprint)
  SELECT series, in_year, count(*), min(observed_at), max(observed_at),
    count(*) FILTER (WHERE observed_at - before > interval '1 hour'),
    count(rain_mm), count(wind_mps), count(gust_mps),
    encode(sha256(convert_to(string_agg(concat_ws(',', extract(epoch FROM observed_at)::bigint::text,
      coalesce(temp_c::text, '-'), coalesce(dew_point_c::text, '-'), coalesce(rain_mm::text, '-'),
      coalesce(wind_mps::text, '-'), coalesce(gust_mps::text, '-'), coalesce(thunder::text, '-')),
      ';' ORDER BY observed_at), 'UTF8')), 'hex')
  FROM (
    SELECT *, lag(observed_at) OVER (ORDER BY observed_at) AS before FROM "weather_observations"
    WHERE series_id = series AND observed_at >= low AND observed_at < high
  ) AS hours
  HAVING count(*) > 0;
END $$;

-- Rows that were there before: what they hold, and the forecasts that they make up.

SELECT "note_weather_year"(series_id, year) FROM (
  SELECT DISTINCT series_id, extract(year FROM observed_at AT TIME ZONE 'UTC')::integer AS year FROM "weather_observations"
) AS held;

INSERT INTO "weather_forecast_issues" (series_id, issued_at, fetched_at, first_at, last_at, members, hours)
SELECT series_id, issued_at, issued_at, min(valid_at), max(valid_at), count(DISTINCT member), count(*)
FROM "weather_forecasts" GROUP BY series_id, issued_at;
