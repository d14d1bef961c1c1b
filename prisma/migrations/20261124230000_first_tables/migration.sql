-- CreateTable
CREATE TABLE "organisations" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "zone" TEXT NOT NULL,
    "is_demo" BOOLEAN NOT NULL DEFAULT false,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "organisations_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "seasons" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "organisation_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "organisation_name" TEXT NOT NULL,
    "zone" TEXT NOT NULL,
    "is_demo" BOOLEAN NOT NULL,
    "first_day" DATE NOT NULL,
    "last_day" DATE NOT NULL,
    "currency" TEXT NOT NULL,
    "as_of_day" DATE,
    "frozen_until" DATE,
    "goods_confidence" DOUBLE PRECISION NOT NULL,
    "reserve_confidence" DOUBLE PRECISION NOT NULL,
    "moved_cents" BIGINT NOT NULL,
    "moved_per_day_cents" BIGINT NOT NULL,
    "crew_changed_cents" BIGINT NOT NULL,
    "near_days" INTEGER NOT NULL,
    "near_factor" DOUBLE PRECISION NOT NULL,
    "workday_start" TEXT,
    "quiet_from" TEXT,
    "quiet_to" TEXT,
    "notes" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "seasons_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "map_places" (
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "kind" TEXT NOT NULL,

    CONSTRAINT "map_places_pkey" PRIMARY KEY ("season_id","key")
);

-- CreateTable
CREATE TABLE "places" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "lat" DOUBLE PRECISION NOT NULL,
    "lon" DOUBLE PRECISION NOT NULL,
    "zone" TEXT NOT NULL,
    "address" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "places_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "warehouses" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "lat" DOUBLE PRECISION NOT NULL,
    "lon" DOUBLE PRECISION NOT NULL,
    "zone" TEXT NOT NULL,
    "address" TEXT,
    "bays" INTEGER NOT NULL,
    "bay_day_cents" BIGINT NOT NULL,
    "overflow_bay_day_cents" BIGINT NOT NULL,
    "weekdays" TEXT NOT NULL,
    "delivery_lead_days" INTEGER NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "warehouses_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "warehouse_closed_days" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "warehouse" TEXT NOT NULL,
    "from_day" DATE NOT NULL,
    "to_day" DATE NOT NULL,
    "reason" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "warehouse_closed_days_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "weather_stations" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "lat" DOUBLE PRECISION NOT NULL,
    "lon" DOUBLE PRECISION NOT NULL,
    "zone" TEXT NOT NULL,
    "elevation_m" DOUBLE PRECISION,
    "source" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "weather_stations_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "weather_areas" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "station" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "weather_areas_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "weather_months" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "area" TEXT NOT NULL,
    "month" INTEGER NOT NULL,
    "wet_day_share" DOUBLE PRECISION NOT NULL,
    "wet_after_wet" DOUBLE PRECISION NOT NULL,
    "windy_day_share" DOUBLE PRECISION,
    "cold_day_share" DOUBLE PRECISION,
    "mean_temp_c" DOUBLE PRECISION,
    "mean_wind_mps" DOUBLE PRECISION,
    "rain_mm_per_month" DOUBLE PRECISION,
    "source" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "weather_months_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ticket_kinds" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "issuer" TEXT,
    "notes" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "ticket_kinds_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "people" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "email" TEXT,
    "phone_e164" TEXT,
    "language" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "home_lat" DOUBLE PRECISION,
    "home_lon" DOUBLE PRECISION,
    "zone" TEXT,
    "range_km" DOUBLE PRECISION,
    "day_cents" BIGINT,
    "travel_fixed_cents" BIGINT,
    "travel_per_km_cents" BIGINT,
    "weekdays" TEXT,
    "notes" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "people_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "tickets" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "person" TEXT NOT NULL,
    "ticket" TEXT NOT NULL,
    "number" TEXT,
    "valid_from" DATE NOT NULL,
    "expires_on" DATE,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "tickets_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "leave" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "person" TEXT NOT NULL,
    "from_day" DATE NOT NULL,
    "to_day" DATE NOT NULL,
    "reason" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "leave_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "crews" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "base" TEXT NOT NULL,
    "weekdays" TEXT NOT NULL,
    "day_cents" BIGINT NOT NULL,
    "standby_day_cents" BIGINT NOT NULL,
    "per_km_cents" BIGINT NOT NULL,
    "night_per_head_cents" BIGINT NOT NULL,
    "max_nights_away" INTEGER NOT NULL,
    "same_day_drive_min" INTEGER NOT NULL,
    "drive_min_per_day" INTEGER NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "crews_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "crew_members" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "crew" TEXT NOT NULL,
    "person" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "from_day" DATE NOT NULL,
    "to_day" DATE,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "crew_members_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "crew_closed_days" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "crew" TEXT NOT NULL,
    "from_day" DATE NOT NULL,
    "to_day" DATE NOT NULL,
    "reason" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "crew_closed_days_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "vehicles" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "crew" TEXT,
    "payload_kg" DOUBLE PRECISION NOT NULL,
    "seats" INTEGER NOT NULL,
    "has_crane" BOOLEAN NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "vehicles_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "customers" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "email" TEXT,
    "phone" TEXT,
    "language" TEXT NOT NULL,
    "notes" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "customers_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "partners" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "email" TEXT,
    "phone" TEXT,
    "language" TEXT NOT NULL,
    "zone" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "partners_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "sites" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "customer" TEXT NOT NULL,
    "lat" DOUBLE PRECISION NOT NULL,
    "lon" DOUBLE PRECISION NOT NULL,
    "elevation_m" DOUBLE PRECISION,
    "zone" TEXT NOT NULL,
    "address" TEXT,
    "access_notes" TEXT,
    "gate_width_m" DOUBLE PRECISION,
    "slope_pct" DOUBLE PRECISION,
    "ground_kind" TEXT,
    "overhead_lines" TEXT NOT NULL,
    "forklift_on_site" TEXT NOT NULL,
    "foundation_kind" TEXT NOT NULL,
    "obstructions" TEXT,
    "work_near_children" BOOLEAN,
    "site_storage_days" INTEGER NOT NULL,
    "weather_area" TEXT,
    "weather_station" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "sites_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "site_closed_days" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "site" TEXT NOT NULL,
    "from_day" DATE NOT NULL,
    "to_day" DATE NOT NULL,
    "reason" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "site_closed_days_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "contacts" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "customer" TEXT,
    "partner" TEXT,
    "site" TEXT,
    "role" TEXT,
    "email" TEXT,
    "phone" TEXT,
    "language" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "contacts_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "lift_types" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "rated_load_kg" DOUBLE PRECISION,
    "working_radius_m" DOUBLE PRECISION,
    "lift_height_m" DOUBLE PRECISION,
    "max_gust_mps" DOUBLE PRECISION,
    "needs_width_m" DOUBLE PRECISION,
    "ground_load_kpa" DOUBLE PRECISION,
    "notes" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "lift_types_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "lifts" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "type" TEXT NOT NULL,
    "depot_lat" DOUBLE PRECISION NOT NULL,
    "depot_lon" DOUBLE PRECISION NOT NULL,
    "partner" TEXT,
    "range_km" DOUBLE PRECISION NOT NULL,
    "mobilise_fixed_cents" BIGINT NOT NULL,
    "mobilise_per_km_cents" BIGINT NOT NULL,
    "day_cents" BIGINT NOT NULL,
    "min_days" INTEGER NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "lifts_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "lift_unavailable" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "lift" TEXT NOT NULL,
    "from_day" DATE NOT NULL,
    "to_day" DATE NOT NULL,
    "reason" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "lift_unavailable_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "equipment_kinds" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "equipment_kinds_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "equipment_units" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "base" TEXT NOT NULL,
    "needs_inspection" BOOLEAN NOT NULL,
    "inspected_until" DATE,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "equipment_units_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "equipment_unavailable" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "unit" TEXT NOT NULL,
    "from_day" DATE NOT NULL,
    "to_day" DATE NOT NULL,
    "reason" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "equipment_unavailable_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "build_templates" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "visit_kind" TEXT NOT NULL,
    "max_gap_days" INTEGER NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "build_templates_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "template_days" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "template" TEXT NOT NULL,
    "day_number" INTEGER NOT NULL,
    "outside" BOOLEAN NOT NULL,
    "hours" DOUBLE PRECISION NOT NULL,
    "hands" INTEGER NOT NULL,
    "lift_type" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "template_days_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "template_day_tickets" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "template" TEXT NOT NULL,
    "day_number" INTEGER NOT NULL,
    "ticket" TEXT NOT NULL,
    "count" INTEGER NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "template_day_tickets_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "template_equipment" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "template" TEXT NOT NULL,
    "equipment_kind" TEXT NOT NULL,
    "count" INTEGER,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "template_equipment_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "readiness_templates" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "template" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "due_days_before" INTEGER NOT NULL,
    "responsible" TEXT NOT NULL,
    "evidence" TEXT NOT NULL,
    "unit" TEXT,
    "tolerance_low" DOUBLE PRECISION,
    "tolerance_high" DOUBLE PRECISION,
    "must_be_true" BOOLEAN NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "readiness_templates_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "steps" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "template" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "day_number" INTEGER NOT NULL,
    "duration_min" INTEGER NOT NULL,
    "min_hands" INTEGER NOT NULL,
    "max_hands" INTEGER NOT NULL,
    "outside" BOOLEAN NOT NULL,
    "interruptible" BOOLEAN NOT NULL,
    "hold_point" BOOLEAN NOT NULL,
    "hold_point_measure" TEXT,
    "hold_point_unit" TEXT,
    "tolerance_low" DOUBLE PRECISION,
    "tolerance_high" DOUBLE PRECISION,
    "gust_limit_mps" DOUBLE PRECISION,
    "mean_wind_limit_mps" DOUBLE PRECISION,
    "load_height_m" DOUBLE PRECISION,
    "rain_limit_mm_per_hour" DOUBLE PRECISION,
    "temperature_min_c" DOUBLE PRECISION,
    "temperature_max_c" DOUBLE PRECISION,
    "dew_point_margin_c" DOUBLE PRECISION,
    "dry_after_min" INTEGER,
    "needs_daylight" BOOLEAN NOT NULL,
    "caution" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "steps_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "step_precedence" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "template" TEXT NOT NULL,
    "before" TEXT NOT NULL,
    "after" TEXT NOT NULL,
    "min_lag_min" INTEGER NOT NULL,
    "max_lag_min" INTEGER,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "step_precedence_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "step_tickets" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "template" TEXT NOT NULL,
    "step" TEXT NOT NULL,
    "ticket" TEXT NOT NULL,
    "count" INTEGER NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "step_tickets_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "step_equipment" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "template" TEXT NOT NULL,
    "step" TEXT NOT NULL,
    "equipment_kind" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "step_equipment_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "kits" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "diameter_m" DOUBLE PRECISION NOT NULL,
    "height_m" DOUBLE PRECISION,
    "mass_kg" DOUBLE PRECISION NOT NULL,
    "pallets" INTEGER NOT NULL,
    "bays" INTEGER NOT NULL,
    "heaviest_part_kg" DOUBLE PRECISION NOT NULL,
    "panel_area_m2" DOUBLE PRECISION NOT NULL,
    "lift_height_m" DOUBLE PRECISION,
    "make_safe_gust_mps" DOUBLE PRECISION,
    "notes" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "kits_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "kit_parts" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "kit" TEXT NOT NULL,
    "part" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "mass_kg" DOUBLE PRECISION NOT NULL,
    "count" INTEGER NOT NULL,
    "length_m" DOUBLE PRECISION,
    "width_m" DOUBLE PRECISION,
    "area_m2" DOUBLE PRECISION,
    "lift_height_m" DOUBLE PRECISION,
    "grip_height_m" DOUBLE PRECISION,
    "handles_or_grips" BOOLEAN,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "kit_parts_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "kit_templates" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "kit" TEXT NOT NULL,
    "visit_kind" TEXT NOT NULL,
    "template" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "kit_templates_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "jobs" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "site" TEXT NOT NULL,
    "visit_kind" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "template" TEXT,
    "site_ready_from" DATE NOT NULL,
    "promised_by" DATE,
    "late_cents_per_day" BIGINT NOT NULL,
    "not_planned_cents" BIGINT NOT NULL,
    "warehouse" TEXT,
    "goods_from" DATE,
    "pinned_start" DATE,
    "pinned_crew" TEXT,
    "pin_reason" TEXT,
    "published_start" DATE,
    "published_crew" TEXT,
    "notes" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "jobs_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "job_kits" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "job" TEXT NOT NULL,
    "kit" TEXT NOT NULL,
    "count" INTEGER NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "job_kits_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "readiness_items" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "job" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "due_days_before" INTEGER NOT NULL,
    "responsible" TEXT NOT NULL,
    "evidence" TEXT NOT NULL,
    "unit" TEXT,
    "tolerance_low" DOUBLE PRECISION,
    "tolerance_high" DOUBLE PRECISION,
    "must_be_true" BOOLEAN NOT NULL,
    "state" TEXT NOT NULL,
    "value" DOUBLE PRECISION,
    "expected_on" DATE,
    "done_on" DATE,
    "remark" TEXT,
    "due_on" DATE,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "readiness_items_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "consignments" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "partner" TEXT,
    "warehouse" TEXT NOT NULL,
    "lot_number" TEXT,
    "port_name" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "consignments_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "consignment_jobs" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "consignment" TEXT NOT NULL,
    "job" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "consignment_jobs_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "containers" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "number" TEXT NOT NULL,
    "consignment" TEXT NOT NULL,
    "free_days" INTEGER NOT NULL,
    "day_cost_cents" BIGINT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "containers_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "milestones" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "consignment" TEXT,
    "container" TEXT,
    "kind" TEXT NOT NULL,
    "planned" DATE,
    "low_days" DOUBLE PRECISION,
    "likely_days" DOUBLE PRECISION,
    "high_days" DOUBLE PRECISION,
    "actual" DATE,
    "source" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "milestones_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "delivery_runs" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "job" TEXT NOT NULL,
    "day" DATE NOT NULL,
    "haulier" TEXT,
    "truck_kind" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "reference" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "delivery_runs_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "lift_hires" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "job" TEXT NOT NULL,
    "lift" TEXT NOT NULL,
    "state" TEXT NOT NULL,
    "from_day" DATE NOT NULL,
    "to_day" DATE NOT NULL,
    "reference" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "lift_hires_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "bookings" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "job" TEXT,
    "crew" TEXT,
    "kind" TEXT NOT NULL,
    "partner" TEXT,
    "from_day" DATE NOT NULL,
    "to_day" DATE NOT NULL,
    "state" TEXT NOT NULL,
    "cancel_until" TIMESTAMPTZ(3),
    "fee_cents" BIGINT,
    "reference" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "bookings_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "travel_overrides" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "from_place" TEXT NOT NULL,
    "to_place" TEXT NOT NULL,
    "km" DOUBLE PRECISION NOT NULL,
    "drive_min" INTEGER NOT NULL,
    "wait_min" INTEGER,
    "source" TEXT NOT NULL,
    "notes" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "travel_overrides_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "users" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "email" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "language" TEXT NOT NULL DEFAULT 'en',
    "disabled_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "users_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "memberships" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "organisation_id" UUID NOT NULL,
    "user_id" UUID NOT NULL,
    "role" TEXT NOT NULL,
    "subject_key" TEXT,
    "revoked_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "memberships_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "sign_in_links" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "token_hash" TEXT NOT NULL,
    "user_id" UUID NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "used_at" TIMESTAMPTZ(3),
    "revoked_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "sign_in_links_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "sessions" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "token_hash" TEXT NOT NULL,
    "membership_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "last_seen_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "ended_at" TIMESTAMPTZ(3),
    "user_agent" TEXT,

    CONSTRAINT "sessions_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "api_tokens" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "organisation_id" UUID NOT NULL,
    "user_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "token_hash" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "last_used_at" TIMESTAMPTZ(3),
    "expires_at" TIMESTAMPTZ(3),
    "revoked_at" TIMESTAMPTZ(3),

    CONSTRAINT "api_tokens_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "action_links" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "organisation_id" UUID NOT NULL,
    "season_id" UUID,
    "token_hash" TEXT NOT NULL,
    "purpose" TEXT NOT NULL,
    "subject_kind" TEXT NOT NULL,
    "subject_id" UUID NOT NULL,
    "recipient_kind" TEXT NOT NULL,
    "recipient_key" TEXT NOT NULL,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "used_at" TIMESTAMPTZ(3),
    "revoked_at" TIMESTAMPTZ(3),
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "action_links_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "plans" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "status" TEXT NOT NULL DEFAULT 'draft',
    "title" TEXT,
    "seed" BIGINT NOT NULL,
    "iterations" BIGINT NOT NULL,
    "method" TEXT NOT NULL,
    "problem_hash" TEXT NOT NULL,
    "content" JSONB NOT NULL,
    "odds" JSONB,
    "total_cents" BIGINT NOT NULL,
    "bound_cents" BIGINT,
    "bound_method" TEXT,
    "created_by" UUID,
    "published_by" UUID,
    "published_at" TIMESTAMPTZ(3),
    "ended_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "plans_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "plan_runs" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'queued',
    "options" JSONB NOT NULL,
    "progress" JSONB,
    "result" JSONB,
    "fault" JSONB,
    "plan_id" UUID,
    "requested_by" UUID,
    "stop_requested_at" TIMESTAMPTZ(3),
    "started_at" TIMESTAMPTZ(3),
    "heartbeat_at" TIMESTAMPTZ(3),
    "finished_at" TIMESTAMPTZ(3),
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "plan_runs_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "plan_differences" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "from_plan_id" UUID,
    "to_plan_id" UUID NOT NULL,
    "content" JSONB NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "plan_differences_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "visits" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "job" TEXT NOT NULL,
    "plan_id" UUID NOT NULL,
    "crew" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'planned',
    "start_day" DATE NOT NULL,
    "end_day" DATE NOT NULL,
    "release_day" DATE NOT NULL,
    "delivery_day" DATE,
    "from_base" BOOLEAN NOT NULL,
    "uid" TEXT NOT NULL,
    "sequence" INTEGER NOT NULL DEFAULT 0,
    "cancelled_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "visits_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "visit_days" (
    "visit_id" UUID NOT NULL,
    "day" DATE NOT NULL,
    "kind" TEXT NOT NULL,
    "day_number" INTEGER NOT NULL,
    "outside" BOOLEAN,
    "hours" DOUBLE PRECISION,

    CONSTRAINT "visit_days_pkey" PRIMARY KEY ("visit_id","day")
);

-- CreateTable
CREATE TABLE "assignments" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "person" TEXT NOT NULL,
    "role" TEXT NOT NULL,
    "from_day" DATE NOT NULL,
    "to_day" DATE NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'asked',
    "ical_uid" TEXT NOT NULL,
    "ical_sequence" INTEGER NOT NULL DEFAULT 0,
    "answered_at" TIMESTAMPTZ(3),
    "answer_note" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "assignments_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "lift_holds" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "lift" TEXT NOT NULL,
    "from_day" DATE NOT NULL,
    "to_day" DATE NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'needed',
    "answered_at" TIMESTAMPTZ(3),
    "reference" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "lift_holds_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "equipment_holds" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "unit" TEXT NOT NULL,
    "from_day" DATE NOT NULL,
    "to_day" DATE NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'held',
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "equipment_holds_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "reminders" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "purpose" TEXT NOT NULL,
    "recipient_kind" TEXT NOT NULL,
    "recipient_key" TEXT NOT NULL,
    "local_date" DATE NOT NULL,
    "local_time" TEXT NOT NULL,
    "zone" TEXT NOT NULL,
    "due_at" TIMESTAMPTZ(3) NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'pending',
    "dedupe_key" TEXT NOT NULL,
    "data" JSONB NOT NULL DEFAULT '{}',
    "done_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "reminders_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "deliveries" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "organisation_id" UUID NOT NULL,
    "season_id" UUID,
    "visit_id" UUID,
    "reminder_id" UUID,
    "channel" TEXT NOT NULL,
    "recipient_kind" TEXT NOT NULL,
    "recipient_key" TEXT NOT NULL,
    "address" TEXT,
    "language" TEXT NOT NULL,
    "template" TEXT NOT NULL,
    "data" JSONB NOT NULL,
    "subject" TEXT,
    "body" TEXT,
    "message_id" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'pending',
    "dedupe_key" TEXT NOT NULL,
    "not_before" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "claimed_by" TEXT,
    "claimed_at" TIMESTAMPTZ(3),
    "sent_at" TIMESTAMPTZ(3),
    "last_fault" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "deliveries_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "delivery_attempts" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "delivery_id" UUID NOT NULL,
    "attempt" INTEGER NOT NULL,
    "started_at" TIMESTAMPTZ(3) NOT NULL,
    "ended_at" TIMESTAMPTZ(3),
    "outcome" TEXT,
    "response" TEXT,

    CONSTRAINT "delivery_attempts_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "confirmations" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "organisation_id" UUID NOT NULL,
    "link_id" UUID,
    "source" TEXT NOT NULL,
    "subject_kind" TEXT NOT NULL,
    "subject_id" UUID NOT NULL,
    "answer" TEXT NOT NULL,
    "proposed_day" DATE,
    "at" TIMESTAMPTZ(3) NOT NULL,
    "raw" JSONB NOT NULL,

    CONSTRAINT "confirmations_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "visit_records" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "day" DATE NOT NULL,
    "step" TEXT,
    "started_at" TIMESTAMPTZ(3),
    "ended_at" TIMESTAMPTZ(3),
    "value" DOUBLE PRECISION,
    "unit" TEXT,
    "passed" BOOLEAN,
    "text" TEXT,
    "data" JSONB NOT NULL DEFAULT '{}',
    "recorded_by" TEXT NOT NULL,
    "recorded_at" TIMESTAMPTZ(3) NOT NULL,
    "client_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "visit_records_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "snags" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "season_id" UUID NOT NULL,
    "visit_id" UUID NOT NULL,
    "title" TEXT NOT NULL,
    "text" TEXT,
    "state" TEXT NOT NULL DEFAULT 'open',
    "found_by" TEXT NOT NULL,
    "found_at" TIMESTAMPTZ(3) NOT NULL,
    "closed_at" TIMESTAMPTZ(3),
    "client_id" UUID NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "snags_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "documents" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "organisation_id" UUID NOT NULL,
    "season_id" UUID,
    "subject_kind" TEXT NOT NULL,
    "subject_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "file_name" TEXT NOT NULL,
    "media_type" TEXT NOT NULL,
    "byte_size" BIGINT NOT NULL,
    "sha256" TEXT NOT NULL,
    "storage_key" TEXT NOT NULL,
    "uploaded_by" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "documents_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "weather_series" (
    "id" UUID NOT NULL DEFAULT gen_random_uuid(),
    "organisation_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "lat" DOUBLE PRECISION NOT NULL,
    "lon" DOUBLE PRECISION NOT NULL,
    "zone" TEXT NOT NULL,
    "source" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "weather_series_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "weather_observations" (
    "series_id" UUID NOT NULL,
    "observed_at" TIMESTAMPTZ(3) NOT NULL,
    "temp_c" REAL,
    "dew_point_c" REAL,
    "rain_mm" REAL,
    "wind_mps" REAL,
    "gust_mps" REAL,
    "thunder" BOOLEAN,

    CONSTRAINT "weather_observations_pkey" PRIMARY KEY ("series_id","observed_at")
) PARTITION BY RANGE ("observed_at");

-- CreateTable
CREATE TABLE "weather_forecasts" (
    "series_id" UUID NOT NULL,
    "issued_at" TIMESTAMPTZ(3) NOT NULL,
    "valid_at" TIMESTAMPTZ(3) NOT NULL,
    "member" SMALLINT NOT NULL DEFAULT 0,
    "temp_c" REAL,
    "dew_point_c" REAL,
    "rain_mm" REAL,
    "wind_mps" REAL,
    "gust_mps" REAL,
    "thunder" BOOLEAN,

    CONSTRAINT "weather_forecasts_pkey" PRIMARY KEY ("series_id","valid_at","issued_at","member")
) PARTITION BY RANGE ("valid_at");

-- CreateTable
CREATE TABLE "outbox" (
    "id" BIGSERIAL NOT NULL,
    "key" TEXT NOT NULL,
    "topic" TEXT NOT NULL,
    "payload" JSONB NOT NULL,
    "not_before" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "relayed_at" TIMESTAMPTZ(3),

    CONSTRAINT "outbox_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "idempotency_keys" (
    "organisation_id" UUID NOT NULL,
    "user_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "request_hash" TEXT NOT NULL,
    "answer" JSONB,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "idempotency_keys_pkey" PRIMARY KEY ("organisation_id","user_id","key")
);

-- CreateTable
CREATE TABLE "audit" (
    "id" BIGSERIAL NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "organisation_id" UUID,
    "season_id" UUID,
    "actor_kind" TEXT NOT NULL,
    "actor_id" TEXT,
    "actor_name" TEXT NOT NULL,
    "action" TEXT NOT NULL,
    "subject_kind" TEXT NOT NULL,
    "subject_id" UUID,
    "subject_key" TEXT,
    "before" JSONB,
    "after" JSONB,

    CONSTRAINT "audit_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "settings" (
    "organisation_id" UUID NOT NULL,
    "key" TEXT NOT NULL,
    "value" JSONB NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "updated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "settings_pkey" PRIMARY KEY ("organisation_id","key")
);

-- CreateIndex
CREATE UNIQUE INDEX "organisations_key_key" ON "organisations"("key");

-- CreateIndex
CREATE UNIQUE INDEX "seasons_organisation_id_key_key" ON "seasons"("organisation_id", "key");

-- CreateIndex
CREATE UNIQUE INDEX "places_season_id_key_key" ON "places"("season_id", "key");

-- CreateIndex
CREATE UNIQUE INDEX "warehouses_season_id_key_key" ON "warehouses"("season_id", "key");

-- CreateIndex
CREATE UNIQUE INDEX "warehouse_closed_days_season_id_warehouse_from_day_key" ON "warehouse_closed_days"("season_id", "warehouse", "from_day");

-- CreateIndex
CREATE UNIQUE INDEX "weather_stations_season_id_key_key" ON "weather_stations"("season_id", "key");

-- CreateIndex
CREATE INDEX "weather_areas_season_id_station_idx" ON "weather_areas"("season_id", "station");

-- CreateIndex
CREATE UNIQUE INDEX "weather_areas_season_id_key_key" ON "weather_areas"("season_id", "key");

-- CreateIndex
CREATE UNIQUE INDEX "weather_months_season_id_area_month_key" ON "weather_months"("season_id", "area", "month");

-- CreateIndex
CREATE UNIQUE INDEX "ticket_kinds_season_id_key_key" ON "ticket_kinds"("season_id", "key");

-- CreateIndex
CREATE UNIQUE INDEX "people_season_id_key_key" ON "people"("season_id", "key");

-- CreateIndex
CREATE INDEX "tickets_season_id_ticket_idx" ON "tickets"("season_id", "ticket");

-- CreateIndex
CREATE UNIQUE INDEX "tickets_season_id_person_ticket_valid_from_key" ON "tickets"("season_id", "person", "ticket", "valid_from");

-- CreateIndex
CREATE UNIQUE INDEX "leave_season_id_person_from_day_key" ON "leave"("season_id", "person", "from_day");

-- CreateIndex
CREATE INDEX "crews_season_id_base_idx" ON "crews"("season_id", "base");

-- CreateIndex
CREATE UNIQUE INDEX "crews_season_id_key_key" ON "crews"("season_id", "key");

-- CreateIndex
CREATE INDEX "crew_members_season_id_person_idx" ON "crew_members"("season_id", "person");

-- CreateIndex
CREATE UNIQUE INDEX "crew_members_season_id_crew_person_from_day_key" ON "crew_members"("season_id", "crew", "person", "from_day");

-- CreateIndex
CREATE UNIQUE INDEX "crew_closed_days_season_id_crew_from_day_key" ON "crew_closed_days"("season_id", "crew", "from_day");

-- CreateIndex
CREATE INDEX "vehicles_season_id_crew_idx" ON "vehicles"("season_id", "crew");

-- CreateIndex
CREATE UNIQUE INDEX "vehicles_season_id_key_key" ON "vehicles"("season_id", "key");

-- CreateIndex
CREATE UNIQUE INDEX "customers_season_id_key_key" ON "customers"("season_id", "key");

-- CreateIndex
CREATE UNIQUE INDEX "partners_season_id_key_key" ON "partners"("season_id", "key");

-- CreateIndex
CREATE INDEX "sites_season_id_customer_idx" ON "sites"("season_id", "customer");

-- CreateIndex
CREATE INDEX "sites_season_id_weather_area_idx" ON "sites"("season_id", "weather_area");

-- CreateIndex
CREATE INDEX "sites_season_id_weather_station_idx" ON "sites"("season_id", "weather_station");

-- CreateIndex
CREATE UNIQUE INDEX "sites_season_id_key_key" ON "sites"("season_id", "key");

-- CreateIndex
CREATE UNIQUE INDEX "site_closed_days_season_id_site_from_day_key" ON "site_closed_days"("season_id", "site", "from_day");

-- CreateIndex
CREATE INDEX "contacts_season_id_customer_idx" ON "contacts"("season_id", "customer");

-- CreateIndex
CREATE INDEX "contacts_season_id_partner_idx" ON "contacts"("season_id", "partner");

-- CreateIndex
CREATE INDEX "contacts_season_id_site_idx" ON "contacts"("season_id", "site");

-- CreateIndex
CREATE UNIQUE INDEX "contacts_season_id_key_key" ON "contacts"("season_id", "key");

-- CreateIndex
CREATE UNIQUE INDEX "lift_types_season_id_key_key" ON "lift_types"("season_id", "key");

-- CreateIndex
CREATE INDEX "lifts_season_id_type_idx" ON "lifts"("season_id", "type");

-- CreateIndex
CREATE INDEX "lifts_season_id_partner_idx" ON "lifts"("season_id", "partner");

-- CreateIndex
CREATE UNIQUE INDEX "lifts_season_id_key_key" ON "lifts"("season_id", "key");

-- CreateIndex
CREATE UNIQUE INDEX "lift_unavailable_season_id_lift_from_day_key" ON "lift_unavailable"("season_id", "lift", "from_day");

-- CreateIndex
CREATE UNIQUE INDEX "equipment_kinds_season_id_key_key" ON "equipment_kinds"("season_id", "key");

-- CreateIndex
CREATE INDEX "equipment_units_season_id_kind_idx" ON "equipment_units"("season_id", "kind");

-- CreateIndex
CREATE INDEX "equipment_units_season_id_base_idx" ON "equipment_units"("season_id", "base");

-- CreateIndex
CREATE UNIQUE INDEX "equipment_units_season_id_key_key" ON "equipment_units"("season_id", "key");

-- CreateIndex
CREATE UNIQUE INDEX "equipment_unavailable_season_id_unit_from_day_key" ON "equipment_unavailable"("season_id", "unit", "from_day");

-- CreateIndex
CREATE UNIQUE INDEX "build_templates_season_id_key_key" ON "build_templates"("season_id", "key");

-- CreateIndex
CREATE INDEX "template_days_season_id_lift_type_idx" ON "template_days"("season_id", "lift_type");

-- CreateIndex
CREATE UNIQUE INDEX "template_days_season_id_template_day_number_key" ON "template_days"("season_id", "template", "day_number");

-- CreateIndex
CREATE INDEX "template_day_tickets_season_id_ticket_idx" ON "template_day_tickets"("season_id", "ticket");

-- CreateIndex
CREATE UNIQUE INDEX "template_day_tickets_season_id_template_day_number_ticket_key" ON "template_day_tickets"("season_id", "template", "day_number", "ticket");

-- CreateIndex
CREATE INDEX "template_equipment_season_id_equipment_kind_idx" ON "template_equipment"("season_id", "equipment_kind");

-- CreateIndex
CREATE UNIQUE INDEX "template_equipment_season_id_template_equipment_kind_key" ON "template_equipment"("season_id", "template", "equipment_kind");

-- CreateIndex
CREATE UNIQUE INDEX "readiness_templates_season_id_template_key_key" ON "readiness_templates"("season_id", "template", "key");

-- CreateIndex
CREATE UNIQUE INDEX "steps_season_id_template_key_key" ON "steps"("season_id", "template", "key");

-- CreateIndex
CREATE UNIQUE INDEX "step_precedence_season_id_template_before_after_key" ON "step_precedence"("season_id", "template", "before", "after");

-- CreateIndex
CREATE INDEX "step_tickets_season_id_ticket_idx" ON "step_tickets"("season_id", "ticket");

-- CreateIndex
CREATE UNIQUE INDEX "step_tickets_season_id_template_step_ticket_key" ON "step_tickets"("season_id", "template", "step", "ticket");

-- CreateIndex
CREATE INDEX "step_equipment_season_id_equipment_kind_idx" ON "step_equipment"("season_id", "equipment_kind");

-- CreateIndex
CREATE UNIQUE INDEX "step_equipment_season_id_template_step_equipment_kind_key" ON "step_equipment"("season_id", "template", "step", "equipment_kind");

-- CreateIndex
CREATE UNIQUE INDEX "kits_season_id_key_key" ON "kits"("season_id", "key");

-- CreateIndex
CREATE UNIQUE INDEX "kit_parts_season_id_kit_part_key" ON "kit_parts"("season_id", "kit", "part");

-- CreateIndex
CREATE INDEX "kit_templates_season_id_template_idx" ON "kit_templates"("season_id", "template");

-- CreateIndex
CREATE UNIQUE INDEX "kit_templates_season_id_kit_visit_kind_key" ON "kit_templates"("season_id", "kit", "visit_kind");

-- CreateIndex
CREATE INDEX "jobs_season_id_site_idx" ON "jobs"("season_id", "site");

-- CreateIndex
CREATE INDEX "jobs_season_id_template_idx" ON "jobs"("season_id", "template");

-- CreateIndex
CREATE INDEX "jobs_season_id_warehouse_idx" ON "jobs"("season_id", "warehouse");

-- CreateIndex
CREATE INDEX "jobs_season_id_pinned_crew_idx" ON "jobs"("season_id", "pinned_crew");

-- CreateIndex
CREATE INDEX "jobs_season_id_published_crew_idx" ON "jobs"("season_id", "published_crew");

-- CreateIndex
CREATE UNIQUE INDEX "jobs_season_id_key_key" ON "jobs"("season_id", "key");

-- CreateIndex
CREATE INDEX "job_kits_season_id_kit_idx" ON "job_kits"("season_id", "kit");

-- CreateIndex
CREATE UNIQUE INDEX "job_kits_season_id_job_kit_key" ON "job_kits"("season_id", "job", "kit");

-- CreateIndex
CREATE UNIQUE INDEX "readiness_items_season_id_job_key_key" ON "readiness_items"("season_id", "job", "key");

-- CreateIndex
CREATE INDEX "consignments_season_id_partner_idx" ON "consignments"("season_id", "partner");

-- CreateIndex
CREATE INDEX "consignments_season_id_warehouse_idx" ON "consignments"("season_id", "warehouse");

-- CreateIndex
CREATE UNIQUE INDEX "consignments_season_id_key_key" ON "consignments"("season_id", "key");

-- CreateIndex
CREATE INDEX "consignment_jobs_season_id_job_idx" ON "consignment_jobs"("season_id", "job");

-- CreateIndex
CREATE UNIQUE INDEX "consignment_jobs_season_id_consignment_job_key" ON "consignment_jobs"("season_id", "consignment", "job");

-- CreateIndex
CREATE INDEX "containers_season_id_consignment_idx" ON "containers"("season_id", "consignment");

-- CreateIndex
CREATE UNIQUE INDEX "containers_season_id_number_key" ON "containers"("season_id", "number");

-- CreateIndex
CREATE UNIQUE INDEX "milestones_season_id_consignment_kind_key" ON "milestones"("season_id", "consignment", "kind");

-- CreateIndex
CREATE UNIQUE INDEX "milestones_season_id_container_kind_key" ON "milestones"("season_id", "container", "kind");

-- CreateIndex
CREATE INDEX "delivery_runs_season_id_haulier_idx" ON "delivery_runs"("season_id", "haulier");

-- CreateIndex
CREATE UNIQUE INDEX "delivery_runs_season_id_job_day_key" ON "delivery_runs"("season_id", "job", "day");

-- CreateIndex
CREATE INDEX "lift_hires_season_id_lift_idx" ON "lift_hires"("season_id", "lift");

-- CreateIndex
CREATE UNIQUE INDEX "lift_hires_season_id_job_lift_from_day_key" ON "lift_hires"("season_id", "job", "lift", "from_day");

-- CreateIndex
CREATE INDEX "bookings_season_id_job_idx" ON "bookings"("season_id", "job");

-- CreateIndex
CREATE INDEX "bookings_season_id_crew_idx" ON "bookings"("season_id", "crew");

-- CreateIndex
CREATE INDEX "bookings_season_id_partner_idx" ON "bookings"("season_id", "partner");

-- CreateIndex
CREATE UNIQUE INDEX "bookings_season_id_key_key" ON "bookings"("season_id", "key");

-- CreateIndex
CREATE INDEX "travel_overrides_season_id_to_place_idx" ON "travel_overrides"("season_id", "to_place");

-- CreateIndex
CREATE UNIQUE INDEX "travel_overrides_season_id_from_place_to_place_key" ON "travel_overrides"("season_id", "from_place", "to_place");

-- CreateIndex
CREATE UNIQUE INDEX "users_email_key" ON "users"("email");

-- CreateIndex
CREATE INDEX "memberships_organisation_id_role_idx" ON "memberships"("organisation_id", "role");

-- CreateIndex
CREATE UNIQUE INDEX "memberships_user_id_organisation_id_role_key" ON "memberships"("user_id", "organisation_id", "role");

-- CreateIndex
CREATE UNIQUE INDEX "sign_in_links_token_hash_key" ON "sign_in_links"("token_hash");

-- CreateIndex
CREATE INDEX "sign_in_links_user_id_idx" ON "sign_in_links"("user_id");

-- CreateIndex
CREATE UNIQUE INDEX "sessions_token_hash_key" ON "sessions"("token_hash");

-- CreateIndex
CREATE INDEX "sessions_membership_id_idx" ON "sessions"("membership_id");

-- CreateIndex
CREATE INDEX "sessions_expires_at_idx" ON "sessions"("expires_at");

-- CreateIndex
CREATE UNIQUE INDEX "api_tokens_token_hash_key" ON "api_tokens"("token_hash");

-- CreateIndex
CREATE INDEX "api_tokens_organisation_id_idx" ON "api_tokens"("organisation_id");

-- CreateIndex
CREATE INDEX "api_tokens_user_id_idx" ON "api_tokens"("user_id");

-- CreateIndex
CREATE UNIQUE INDEX "action_links_token_hash_key" ON "action_links"("token_hash");

-- CreateIndex
CREATE INDEX "action_links_organisation_id_idx" ON "action_links"("organisation_id");

-- CreateIndex
CREATE INDEX "action_links_season_id_idx" ON "action_links"("season_id");

-- CreateIndex
CREATE INDEX "action_links_subject_kind_subject_id_idx" ON "action_links"("subject_kind", "subject_id");

-- CreateIndex
CREATE INDEX "plans_created_by_idx" ON "plans"("created_by");

-- CreateIndex
CREATE INDEX "plans_published_by_idx" ON "plans"("published_by");

-- CreateIndex
CREATE UNIQUE INDEX "plans_season_id_number_key" ON "plans"("season_id", "number");

-- CreateIndex
CREATE INDEX "plan_runs_season_id_created_at_idx" ON "plan_runs"("season_id", "created_at");

-- CreateIndex
CREATE INDEX "plan_runs_plan_id_idx" ON "plan_runs"("plan_id");

-- CreateIndex
CREATE INDEX "plan_runs_requested_by_idx" ON "plan_runs"("requested_by");

-- CreateIndex
CREATE UNIQUE INDEX "plan_differences_to_plan_id_key" ON "plan_differences"("to_plan_id");

-- CreateIndex
CREATE INDEX "plan_differences_season_id_idx" ON "plan_differences"("season_id");

-- CreateIndex
CREATE INDEX "plan_differences_from_plan_id_idx" ON "plan_differences"("from_plan_id");

-- CreateIndex
CREATE UNIQUE INDEX "visits_uid_key" ON "visits"("uid");

-- CreateIndex
CREATE INDEX "visits_season_id_crew_start_day_idx" ON "visits"("season_id", "crew", "start_day");

-- CreateIndex
CREATE INDEX "visits_plan_id_idx" ON "visits"("plan_id");

-- CreateIndex
CREATE UNIQUE INDEX "visits_season_id_job_key" ON "visits"("season_id", "job");

-- CreateIndex
CREATE UNIQUE INDEX "assignments_ical_uid_key" ON "assignments"("ical_uid");

-- CreateIndex
CREATE INDEX "assignments_season_id_person_from_day_idx" ON "assignments"("season_id", "person", "from_day");

-- CreateIndex
CREATE UNIQUE INDEX "assignments_visit_id_person_key" ON "assignments"("visit_id", "person");

-- CreateIndex
CREATE INDEX "lift_holds_season_id_lift_from_day_idx" ON "lift_holds"("season_id", "lift", "from_day");

-- CreateIndex
CREATE UNIQUE INDEX "lift_holds_visit_id_lift_key" ON "lift_holds"("visit_id", "lift");

-- CreateIndex
CREATE INDEX "equipment_holds_season_id_unit_from_day_idx" ON "equipment_holds"("season_id", "unit", "from_day");

-- CreateIndex
CREATE UNIQUE INDEX "equipment_holds_visit_id_unit_key" ON "equipment_holds"("visit_id", "unit");

-- CreateIndex
CREATE UNIQUE INDEX "reminders_dedupe_key_key" ON "reminders"("dedupe_key");

-- CreateIndex
CREATE INDEX "reminders_season_id_idx" ON "reminders"("season_id");

-- CreateIndex
CREATE INDEX "reminders_visit_id_idx" ON "reminders"("visit_id");

-- CreateIndex
CREATE UNIQUE INDEX "deliveries_message_id_key" ON "deliveries"("message_id");

-- CreateIndex
CREATE UNIQUE INDEX "deliveries_dedupe_key_key" ON "deliveries"("dedupe_key");

-- CreateIndex
CREATE INDEX "deliveries_organisation_id_created_at_idx" ON "deliveries"("organisation_id", "created_at");

-- CreateIndex
CREATE INDEX "deliveries_season_id_idx" ON "deliveries"("season_id");

-- CreateIndex
CREATE INDEX "deliveries_visit_id_idx" ON "deliveries"("visit_id");

-- CreateIndex
CREATE INDEX "deliveries_reminder_id_idx" ON "deliveries"("reminder_id");

-- CreateIndex
CREATE UNIQUE INDEX "delivery_attempts_delivery_id_attempt_key" ON "delivery_attempts"("delivery_id", "attempt");

-- CreateIndex
CREATE INDEX "confirmations_organisation_id_at_idx" ON "confirmations"("organisation_id", "at");

-- CreateIndex
CREATE INDEX "confirmations_link_id_idx" ON "confirmations"("link_id");

-- CreateIndex
CREATE INDEX "confirmations_subject_kind_subject_id_idx" ON "confirmations"("subject_kind", "subject_id");

-- CreateIndex
CREATE INDEX "visit_records_season_id_idx" ON "visit_records"("season_id");

-- CreateIndex
CREATE UNIQUE INDEX "visit_records_visit_id_client_id_key" ON "visit_records"("visit_id", "client_id");

-- CreateIndex
CREATE INDEX "snags_season_id_idx" ON "snags"("season_id");

-- CreateIndex
CREATE UNIQUE INDEX "snags_visit_id_client_id_key" ON "snags"("visit_id", "client_id");

-- CreateIndex
CREATE UNIQUE INDEX "documents_storage_key_key" ON "documents"("storage_key");

-- CreateIndex
CREATE INDEX "documents_organisation_id_idx" ON "documents"("organisation_id");

-- CreateIndex
CREATE INDEX "documents_season_id_idx" ON "documents"("season_id");

-- CreateIndex
CREATE INDEX "documents_subject_kind_subject_id_idx" ON "documents"("subject_kind", "subject_id");

-- CreateIndex
CREATE UNIQUE INDEX "weather_series_organisation_id_key_key" ON "weather_series"("organisation_id", "key");

-- CreateIndex
CREATE UNIQUE INDEX "outbox_key_key" ON "outbox"("key");

-- CreateIndex
CREATE INDEX "idempotency_keys_expires_at_idx" ON "idempotency_keys"("expires_at");

-- CreateIndex
CREATE INDEX "audit_organisation_id_id_idx" ON "audit"("organisation_id", "id");

-- CreateIndex
CREATE INDEX "audit_subject_kind_subject_id_idx" ON "audit"("subject_kind", "subject_id");

-- AddForeignKey
ALTER TABLE "seasons" ADD CONSTRAINT "seasons_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "map_places" ADD CONSTRAINT "map_places_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "places" ADD CONSTRAINT "places_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "warehouses" ADD CONSTRAINT "warehouses_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "warehouse_closed_days" ADD CONSTRAINT "warehouse_closed_days_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "warehouse_closed_days" ADD CONSTRAINT "warehouse_closed_days_season_id_warehouse_fkey" FOREIGN KEY ("season_id", "warehouse") REFERENCES "warehouses"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "weather_stations" ADD CONSTRAINT "weather_stations_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "weather_areas" ADD CONSTRAINT "weather_areas_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "weather_areas" ADD CONSTRAINT "weather_areas_season_id_station_fkey" FOREIGN KEY ("season_id", "station") REFERENCES "weather_stations"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "weather_months" ADD CONSTRAINT "weather_months_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "weather_months" ADD CONSTRAINT "weather_months_season_id_area_fkey" FOREIGN KEY ("season_id", "area") REFERENCES "weather_areas"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ticket_kinds" ADD CONSTRAINT "ticket_kinds_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "people" ADD CONSTRAINT "people_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "tickets" ADD CONSTRAINT "tickets_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "tickets" ADD CONSTRAINT "tickets_season_id_person_fkey" FOREIGN KEY ("season_id", "person") REFERENCES "people"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "tickets" ADD CONSTRAINT "tickets_season_id_ticket_fkey" FOREIGN KEY ("season_id", "ticket") REFERENCES "ticket_kinds"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "leave" ADD CONSTRAINT "leave_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "leave" ADD CONSTRAINT "leave_season_id_person_fkey" FOREIGN KEY ("season_id", "person") REFERENCES "people"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "crews" ADD CONSTRAINT "crews_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "crews" ADD CONSTRAINT "crews_season_id_base_fkey" FOREIGN KEY ("season_id", "base") REFERENCES "places"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "crew_members" ADD CONSTRAINT "crew_members_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "crew_members" ADD CONSTRAINT "crew_members_season_id_crew_fkey" FOREIGN KEY ("season_id", "crew") REFERENCES "crews"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "crew_members" ADD CONSTRAINT "crew_members_season_id_person_fkey" FOREIGN KEY ("season_id", "person") REFERENCES "people"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "crew_closed_days" ADD CONSTRAINT "crew_closed_days_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "crew_closed_days" ADD CONSTRAINT "crew_closed_days_season_id_crew_fkey" FOREIGN KEY ("season_id", "crew") REFERENCES "crews"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "vehicles" ADD CONSTRAINT "vehicles_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "vehicles" ADD CONSTRAINT "vehicles_season_id_crew_fkey" FOREIGN KEY ("season_id", "crew") REFERENCES "crews"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "customers" ADD CONSTRAINT "customers_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "partners" ADD CONSTRAINT "partners_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "sites" ADD CONSTRAINT "sites_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "sites" ADD CONSTRAINT "sites_season_id_customer_fkey" FOREIGN KEY ("season_id", "customer") REFERENCES "customers"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "sites" ADD CONSTRAINT "sites_season_id_weather_area_fkey" FOREIGN KEY ("season_id", "weather_area") REFERENCES "weather_areas"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "sites" ADD CONSTRAINT "sites_season_id_weather_station_fkey" FOREIGN KEY ("season_id", "weather_station") REFERENCES "weather_stations"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "site_closed_days" ADD CONSTRAINT "site_closed_days_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "site_closed_days" ADD CONSTRAINT "site_closed_days_season_id_site_fkey" FOREIGN KEY ("season_id", "site") REFERENCES "sites"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "contacts" ADD CONSTRAINT "contacts_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "contacts" ADD CONSTRAINT "contacts_season_id_customer_fkey" FOREIGN KEY ("season_id", "customer") REFERENCES "customers"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "contacts" ADD CONSTRAINT "contacts_season_id_partner_fkey" FOREIGN KEY ("season_id", "partner") REFERENCES "partners"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "contacts" ADD CONSTRAINT "contacts_season_id_site_fkey" FOREIGN KEY ("season_id", "site") REFERENCES "sites"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lift_types" ADD CONSTRAINT "lift_types_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lifts" ADD CONSTRAINT "lifts_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lifts" ADD CONSTRAINT "lifts_season_id_type_fkey" FOREIGN KEY ("season_id", "type") REFERENCES "lift_types"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lifts" ADD CONSTRAINT "lifts_season_id_partner_fkey" FOREIGN KEY ("season_id", "partner") REFERENCES "partners"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lift_unavailable" ADD CONSTRAINT "lift_unavailable_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lift_unavailable" ADD CONSTRAINT "lift_unavailable_season_id_lift_fkey" FOREIGN KEY ("season_id", "lift") REFERENCES "lifts"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "equipment_kinds" ADD CONSTRAINT "equipment_kinds_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "equipment_units" ADD CONSTRAINT "equipment_units_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "equipment_units" ADD CONSTRAINT "equipment_units_season_id_kind_fkey" FOREIGN KEY ("season_id", "kind") REFERENCES "equipment_kinds"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "equipment_units" ADD CONSTRAINT "equipment_units_season_id_base_fkey" FOREIGN KEY ("season_id", "base") REFERENCES "places"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "equipment_unavailable" ADD CONSTRAINT "equipment_unavailable_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "equipment_unavailable" ADD CONSTRAINT "equipment_unavailable_season_id_unit_fkey" FOREIGN KEY ("season_id", "unit") REFERENCES "equipment_units"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "build_templates" ADD CONSTRAINT "build_templates_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "template_days" ADD CONSTRAINT "template_days_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "template_days" ADD CONSTRAINT "template_days_season_id_template_fkey" FOREIGN KEY ("season_id", "template") REFERENCES "build_templates"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "template_days" ADD CONSTRAINT "template_days_season_id_lift_type_fkey" FOREIGN KEY ("season_id", "lift_type") REFERENCES "lift_types"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "template_day_tickets" ADD CONSTRAINT "template_day_tickets_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "template_day_tickets" ADD CONSTRAINT "template_day_tickets_season_id_ticket_fkey" FOREIGN KEY ("season_id", "ticket") REFERENCES "ticket_kinds"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "template_day_tickets" ADD CONSTRAINT "template_day_tickets_season_id_template_day_number_fkey" FOREIGN KEY ("season_id", "template", "day_number") REFERENCES "template_days"("season_id", "template", "day_number") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "template_equipment" ADD CONSTRAINT "template_equipment_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "template_equipment" ADD CONSTRAINT "template_equipment_season_id_template_fkey" FOREIGN KEY ("season_id", "template") REFERENCES "build_templates"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "template_equipment" ADD CONSTRAINT "template_equipment_season_id_equipment_kind_fkey" FOREIGN KEY ("season_id", "equipment_kind") REFERENCES "equipment_kinds"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "readiness_templates" ADD CONSTRAINT "readiness_templates_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "readiness_templates" ADD CONSTRAINT "readiness_templates_season_id_template_fkey" FOREIGN KEY ("season_id", "template") REFERENCES "build_templates"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "steps" ADD CONSTRAINT "steps_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "steps" ADD CONSTRAINT "steps_season_id_template_day_number_fkey" FOREIGN KEY ("season_id", "template", "day_number") REFERENCES "template_days"("season_id", "template", "day_number") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "step_precedence" ADD CONSTRAINT "step_precedence_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "step_precedence" ADD CONSTRAINT "step_precedence_season_id_template_before_fkey" FOREIGN KEY ("season_id", "template", "before") REFERENCES "steps"("season_id", "template", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "step_precedence" ADD CONSTRAINT "step_precedence_season_id_template_after_fkey" FOREIGN KEY ("season_id", "template", "after") REFERENCES "steps"("season_id", "template", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "step_tickets" ADD CONSTRAINT "step_tickets_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "step_tickets" ADD CONSTRAINT "step_tickets_season_id_ticket_fkey" FOREIGN KEY ("season_id", "ticket") REFERENCES "ticket_kinds"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "step_tickets" ADD CONSTRAINT "step_tickets_season_id_template_step_fkey" FOREIGN KEY ("season_id", "template", "step") REFERENCES "steps"("season_id", "template", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "step_equipment" ADD CONSTRAINT "step_equipment_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "step_equipment" ADD CONSTRAINT "step_equipment_season_id_equipment_kind_fkey" FOREIGN KEY ("season_id", "equipment_kind") REFERENCES "equipment_kinds"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "step_equipment" ADD CONSTRAINT "step_equipment_season_id_template_step_fkey" FOREIGN KEY ("season_id", "template", "step") REFERENCES "steps"("season_id", "template", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "kits" ADD CONSTRAINT "kits_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "kit_parts" ADD CONSTRAINT "kit_parts_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "kit_parts" ADD CONSTRAINT "kit_parts_season_id_kit_fkey" FOREIGN KEY ("season_id", "kit") REFERENCES "kits"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "kit_templates" ADD CONSTRAINT "kit_templates_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "kit_templates" ADD CONSTRAINT "kit_templates_season_id_kit_fkey" FOREIGN KEY ("season_id", "kit") REFERENCES "kits"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "kit_templates" ADD CONSTRAINT "kit_templates_season_id_template_fkey" FOREIGN KEY ("season_id", "template") REFERENCES "build_templates"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "jobs" ADD CONSTRAINT "jobs_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "jobs" ADD CONSTRAINT "jobs_season_id_site_fkey" FOREIGN KEY ("season_id", "site") REFERENCES "sites"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "jobs" ADD CONSTRAINT "jobs_season_id_template_fkey" FOREIGN KEY ("season_id", "template") REFERENCES "build_templates"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "jobs" ADD CONSTRAINT "jobs_season_id_warehouse_fkey" FOREIGN KEY ("season_id", "warehouse") REFERENCES "warehouses"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "jobs" ADD CONSTRAINT "jobs_season_id_pinned_crew_fkey" FOREIGN KEY ("season_id", "pinned_crew") REFERENCES "crews"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "jobs" ADD CONSTRAINT "jobs_season_id_published_crew_fkey" FOREIGN KEY ("season_id", "published_crew") REFERENCES "crews"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "job_kits" ADD CONSTRAINT "job_kits_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "job_kits" ADD CONSTRAINT "job_kits_season_id_job_fkey" FOREIGN KEY ("season_id", "job") REFERENCES "jobs"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "job_kits" ADD CONSTRAINT "job_kits_season_id_kit_fkey" FOREIGN KEY ("season_id", "kit") REFERENCES "kits"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "readiness_items" ADD CONSTRAINT "readiness_items_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "readiness_items" ADD CONSTRAINT "readiness_items_season_id_job_fkey" FOREIGN KEY ("season_id", "job") REFERENCES "jobs"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "consignments" ADD CONSTRAINT "consignments_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "consignments" ADD CONSTRAINT "consignments_season_id_partner_fkey" FOREIGN KEY ("season_id", "partner") REFERENCES "partners"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "consignments" ADD CONSTRAINT "consignments_season_id_warehouse_fkey" FOREIGN KEY ("season_id", "warehouse") REFERENCES "warehouses"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "consignment_jobs" ADD CONSTRAINT "consignment_jobs_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "consignment_jobs" ADD CONSTRAINT "consignment_jobs_season_id_consignment_fkey" FOREIGN KEY ("season_id", "consignment") REFERENCES "consignments"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "consignment_jobs" ADD CONSTRAINT "consignment_jobs_season_id_job_fkey" FOREIGN KEY ("season_id", "job") REFERENCES "jobs"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "containers" ADD CONSTRAINT "containers_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "containers" ADD CONSTRAINT "containers_season_id_consignment_fkey" FOREIGN KEY ("season_id", "consignment") REFERENCES "consignments"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "milestones" ADD CONSTRAINT "milestones_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "milestones" ADD CONSTRAINT "milestones_season_id_consignment_fkey" FOREIGN KEY ("season_id", "consignment") REFERENCES "consignments"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "milestones" ADD CONSTRAINT "milestones_season_id_container_fkey" FOREIGN KEY ("season_id", "container") REFERENCES "containers"("season_id", "number") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "delivery_runs" ADD CONSTRAINT "delivery_runs_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "delivery_runs" ADD CONSTRAINT "delivery_runs_season_id_job_fkey" FOREIGN KEY ("season_id", "job") REFERENCES "jobs"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "delivery_runs" ADD CONSTRAINT "delivery_runs_season_id_haulier_fkey" FOREIGN KEY ("season_id", "haulier") REFERENCES "partners"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lift_hires" ADD CONSTRAINT "lift_hires_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lift_hires" ADD CONSTRAINT "lift_hires_season_id_job_fkey" FOREIGN KEY ("season_id", "job") REFERENCES "jobs"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lift_hires" ADD CONSTRAINT "lift_hires_season_id_lift_fkey" FOREIGN KEY ("season_id", "lift") REFERENCES "lifts"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "bookings" ADD CONSTRAINT "bookings_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "bookings" ADD CONSTRAINT "bookings_season_id_job_fkey" FOREIGN KEY ("season_id", "job") REFERENCES "jobs"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "bookings" ADD CONSTRAINT "bookings_season_id_crew_fkey" FOREIGN KEY ("season_id", "crew") REFERENCES "crews"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "bookings" ADD CONSTRAINT "bookings_season_id_partner_fkey" FOREIGN KEY ("season_id", "partner") REFERENCES "partners"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "travel_overrides" ADD CONSTRAINT "travel_overrides_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "travel_overrides" ADD CONSTRAINT "travel_overrides_season_id_from_place_fkey" FOREIGN KEY ("season_id", "from_place") REFERENCES "map_places"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "travel_overrides" ADD CONSTRAINT "travel_overrides_season_id_to_place_fkey" FOREIGN KEY ("season_id", "to_place") REFERENCES "map_places"("season_id", "key") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "memberships" ADD CONSTRAINT "memberships_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "memberships" ADD CONSTRAINT "memberships_user_id_fkey" FOREIGN KEY ("user_id") REFERENCES "users"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "sign_in_links" ADD CONSTRAINT "sign_in_links_user_id_fkey" FOREIGN KEY ("user_id") REFERENCES "users"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "sessions" ADD CONSTRAINT "sessions_membership_id_fkey" FOREIGN KEY ("membership_id") REFERENCES "memberships"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "api_tokens" ADD CONSTRAINT "api_tokens_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "api_tokens" ADD CONSTRAINT "api_tokens_user_id_fkey" FOREIGN KEY ("user_id") REFERENCES "users"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "action_links" ADD CONSTRAINT "action_links_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "action_links" ADD CONSTRAINT "action_links_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "plans" ADD CONSTRAINT "plans_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "plans" ADD CONSTRAINT "plans_created_by_fkey" FOREIGN KEY ("created_by") REFERENCES "users"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "plans" ADD CONSTRAINT "plans_published_by_fkey" FOREIGN KEY ("published_by") REFERENCES "users"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "plan_runs" ADD CONSTRAINT "plan_runs_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "plan_runs" ADD CONSTRAINT "plan_runs_plan_id_fkey" FOREIGN KEY ("plan_id") REFERENCES "plans"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "plan_runs" ADD CONSTRAINT "plan_runs_requested_by_fkey" FOREIGN KEY ("requested_by") REFERENCES "users"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "plan_differences" ADD CONSTRAINT "plan_differences_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "plan_differences" ADD CONSTRAINT "plan_differences_from_plan_id_fkey" FOREIGN KEY ("from_plan_id") REFERENCES "plans"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "plan_differences" ADD CONSTRAINT "plan_differences_to_plan_id_fkey" FOREIGN KEY ("to_plan_id") REFERENCES "plans"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visits" ADD CONSTRAINT "visits_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visits" ADD CONSTRAINT "visits_season_id_job_fkey" FOREIGN KEY ("season_id", "job") REFERENCES "jobs"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visits" ADD CONSTRAINT "visits_season_id_crew_fkey" FOREIGN KEY ("season_id", "crew") REFERENCES "crews"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visits" ADD CONSTRAINT "visits_plan_id_fkey" FOREIGN KEY ("plan_id") REFERENCES "plans"("id") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit_days" ADD CONSTRAINT "visit_days_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visits"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "assignments" ADD CONSTRAINT "assignments_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "assignments" ADD CONSTRAINT "assignments_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visits"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "assignments" ADD CONSTRAINT "assignments_season_id_person_fkey" FOREIGN KEY ("season_id", "person") REFERENCES "people"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lift_holds" ADD CONSTRAINT "lift_holds_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lift_holds" ADD CONSTRAINT "lift_holds_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visits"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "lift_holds" ADD CONSTRAINT "lift_holds_season_id_lift_fkey" FOREIGN KEY ("season_id", "lift") REFERENCES "lifts"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "equipment_holds" ADD CONSTRAINT "equipment_holds_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "equipment_holds" ADD CONSTRAINT "equipment_holds_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visits"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "equipment_holds" ADD CONSTRAINT "equipment_holds_season_id_unit_fkey" FOREIGN KEY ("season_id", "unit") REFERENCES "equipment_units"("season_id", "key") ON DELETE NO ACTION ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reminders" ADD CONSTRAINT "reminders_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "reminders" ADD CONSTRAINT "reminders_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visits"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "deliveries" ADD CONSTRAINT "deliveries_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "deliveries" ADD CONSTRAINT "deliveries_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "deliveries" ADD CONSTRAINT "deliveries_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visits"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "deliveries" ADD CONSTRAINT "deliveries_reminder_id_fkey" FOREIGN KEY ("reminder_id") REFERENCES "reminders"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "delivery_attempts" ADD CONSTRAINT "delivery_attempts_delivery_id_fkey" FOREIGN KEY ("delivery_id") REFERENCES "deliveries"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "confirmations" ADD CONSTRAINT "confirmations_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "confirmations" ADD CONSTRAINT "confirmations_link_id_fkey" FOREIGN KEY ("link_id") REFERENCES "action_links"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit_records" ADD CONSTRAINT "visit_records_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "visit_records" ADD CONSTRAINT "visit_records_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visits"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "snags" ADD CONSTRAINT "snags_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "snags" ADD CONSTRAINT "snags_visit_id_fkey" FOREIGN KEY ("visit_id") REFERENCES "visits"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "documents" ADD CONSTRAINT "documents_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "documents" ADD CONSTRAINT "documents_season_id_fkey" FOREIGN KEY ("season_id") REFERENCES "seasons"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "weather_series" ADD CONSTRAINT "weather_series_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "weather_observations" ADD CONSTRAINT "weather_observations_series_id_fkey" FOREIGN KEY ("series_id") REFERENCES "weather_series"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "weather_forecasts" ADD CONSTRAINT "weather_forecasts_series_id_fkey" FOREIGN KEY ("series_id") REFERENCES "weather_series"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "idempotency_keys" ADD CONSTRAINT "idempotency_keys_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "settings" ADD CONSTRAINT "settings_organisation_id_fkey" FOREIGN KEY ("organisation_id") REFERENCES "organisations"("id") ON DELETE CASCADE ON UPDATE CASCADE;
