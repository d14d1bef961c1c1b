-- What each column of the season tables may hold: the same limits as in libs/contracts/src/season-file, where they are described.

ALTER TABLE "seasons"
  ADD CONSTRAINT "seasons_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "seasons_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "seasons_organisation_name_check" CHECK (char_length("organisation_name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "seasons_zone_check" CHECK ("zone" ~ '^[A-Za-z][A-Za-z0-9_+-]*(?:/[A-Za-z0-9_+-]+){0,2}$'),
  ADD CONSTRAINT "seasons_currency_check" CHECK ("currency" ~ '^[A-Z]{3}$'),
  ADD CONSTRAINT "seasons_goods_confidence_check" CHECK ("goods_confidence" BETWEEN 0 AND 1),
  ADD CONSTRAINT "seasons_reserve_confidence_check" CHECK ("reserve_confidence" BETWEEN 0 AND 1),
  ADD CONSTRAINT "seasons_moved_cents_check" CHECK ("moved_cents" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "seasons_moved_per_day_cents_check" CHECK ("moved_per_day_cents" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "seasons_crew_changed_cents_check" CHECK ("crew_changed_cents" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "seasons_near_days_check" CHECK ("near_days" BETWEEN 1 AND 366),
  ADD CONSTRAINT "seasons_near_factor_check" CHECK ("near_factor" BETWEEN 0 AND 1000),
  ADD CONSTRAINT "seasons_workday_start_check" CHECK ("workday_start" ~ '^(?:[01][0-9]|2[0-3]):[0-5][0-9]$'),
  ADD CONSTRAINT "seasons_quiet_from_check" CHECK ("quiet_from" ~ '^(?:[01][0-9]|2[0-3]):[0-5][0-9]$'),
  ADD CONSTRAINT "seasons_quiet_to_check" CHECK ("quiet_to" ~ '^(?:[01][0-9]|2[0-3]):[0-5][0-9]$'),
  ADD CONSTRAINT "seasons_notes_check" CHECK (char_length("notes") BETWEEN 1 AND 4000),
  ADD CONSTRAINT "seasons_first_day_to_last_day_check" CHECK ("first_day" <= "last_day");

ALTER TABLE "places"
  ADD CONSTRAINT "places_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "places_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "places_lat_check" CHECK ("lat" BETWEEN -90 AND 90),
  ADD CONSTRAINT "places_lon_check" CHECK ("lon" BETWEEN -180 AND 180),
  ADD CONSTRAINT "places_zone_check" CHECK ("zone" ~ '^[A-Za-z][A-Za-z0-9_+-]*(?:/[A-Za-z0-9_+-]+){0,2}$'),
  ADD CONSTRAINT "places_address_check" CHECK (char_length("address") BETWEEN 1 AND 500);

ALTER TABLE "warehouses"
  ADD CONSTRAINT "warehouses_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "warehouses_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "warehouses_lat_check" CHECK ("lat" BETWEEN -90 AND 90),
  ADD CONSTRAINT "warehouses_lon_check" CHECK ("lon" BETWEEN -180 AND 180),
  ADD CONSTRAINT "warehouses_zone_check" CHECK ("zone" ~ '^[A-Za-z][A-Za-z0-9_+-]*(?:/[A-Za-z0-9_+-]+){0,2}$'),
  ADD CONSTRAINT "warehouses_address_check" CHECK (char_length("address") BETWEEN 1 AND 500),
  ADD CONSTRAINT "warehouses_bays_check" CHECK ("bays" BETWEEN 0 AND 100000),
  ADD CONSTRAINT "warehouses_bay_day_cents_check" CHECK ("bay_day_cents" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "warehouses_overflow_bay_day_cents_check" CHECK ("overflow_bay_day_cents" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "warehouses_weekdays_check" CHECK ("weekdays" ~ '^(?=.*1)[01]{7}$'),
  ADD CONSTRAINT "warehouses_delivery_lead_days_check" CHECK ("delivery_lead_days" BETWEEN 0 AND 60);

ALTER TABLE "warehouse_closed_days"
  ADD CONSTRAINT "warehouse_closed_days_warehouse_check" CHECK ("warehouse" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "warehouse_closed_days_reason_check" CHECK (char_length("reason") BETWEEN 1 AND 200),
  ADD CONSTRAINT "warehouse_closed_days_from_day_to_to_day_check" CHECK ("from_day" <= "to_day");

ALTER TABLE "weather_stations"
  ADD CONSTRAINT "weather_stations_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "weather_stations_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "weather_stations_lat_check" CHECK ("lat" BETWEEN -90 AND 90),
  ADD CONSTRAINT "weather_stations_lon_check" CHECK ("lon" BETWEEN -180 AND 180),
  ADD CONSTRAINT "weather_stations_zone_check" CHECK ("zone" ~ '^[A-Za-z][A-Za-z0-9_+-]*(?:/[A-Za-z0-9_+-]+){0,2}$'),
  ADD CONSTRAINT "weather_stations_elevation_m_check" CHECK ("elevation_m" BETWEEN -500 AND 9000),
  ADD CONSTRAINT "weather_stations_source_check" CHECK (char_length("source") BETWEEN 1 AND 500);

ALTER TABLE "weather_areas"
  ADD CONSTRAINT "weather_areas_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "weather_areas_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "weather_areas_station_check" CHECK ("station" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$');

ALTER TABLE "weather_months"
  ADD CONSTRAINT "weather_months_area_check" CHECK ("area" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "weather_months_month_check" CHECK ("month" BETWEEN 1 AND 12),
  ADD CONSTRAINT "weather_months_wet_day_share_check" CHECK ("wet_day_share" BETWEEN 0 AND 1),
  ADD CONSTRAINT "weather_months_wet_after_wet_check" CHECK ("wet_after_wet" BETWEEN 0 AND 1),
  ADD CONSTRAINT "weather_months_windy_day_share_check" CHECK ("windy_day_share" BETWEEN 0 AND 1),
  ADD CONSTRAINT "weather_months_cold_day_share_check" CHECK ("cold_day_share" BETWEEN 0 AND 1),
  ADD CONSTRAINT "weather_months_mean_temp_c_check" CHECK ("mean_temp_c" BETWEEN -60 AND 60),
  ADD CONSTRAINT "weather_months_mean_wind_mps_check" CHECK ("mean_wind_mps" BETWEEN 0 AND 60),
  ADD CONSTRAINT "weather_months_rain_mm_per_month_check" CHECK ("rain_mm_per_month" BETWEEN 0 AND 3000),
  ADD CONSTRAINT "weather_months_source_check" CHECK (char_length("source") BETWEEN 1 AND 500);

ALTER TABLE "ticket_kinds"
  ADD CONSTRAINT "ticket_kinds_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "ticket_kinds_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "ticket_kinds_issuer_check" CHECK (char_length("issuer") BETWEEN 1 AND 200),
  ADD CONSTRAINT "ticket_kinds_notes_check" CHECK (char_length("notes") BETWEEN 1 AND 4000);

ALTER TABLE "people"
  ADD CONSTRAINT "people_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "people_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "people_email_check" CHECK (char_length("email") BETWEEN 1 AND 254),
  ADD CONSTRAINT "people_phone_e164_check" CHECK ("phone_e164" ~ '^\+[1-9][0-9]{6,14}$'),
  ADD CONSTRAINT "people_language_check" CHECK ("language" ~ '^[a-z]{2,3}(?:-[A-Z]{2})?$'),
  ADD CONSTRAINT "people_kind_check" CHECK ("kind" IN ('regular', 'casual')),
  ADD CONSTRAINT "people_home_lat_check" CHECK ("home_lat" BETWEEN -90 AND 90),
  ADD CONSTRAINT "people_home_lon_check" CHECK ("home_lon" BETWEEN -180 AND 180),
  ADD CONSTRAINT "people_zone_check" CHECK ("zone" ~ '^[A-Za-z][A-Za-z0-9_+-]*(?:/[A-Za-z0-9_+-]+){0,2}$'),
  ADD CONSTRAINT "people_range_km_check" CHECK ("range_km" BETWEEN 0 AND 20000),
  ADD CONSTRAINT "people_day_cents_check" CHECK ("day_cents" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "people_travel_fixed_cents_check" CHECK ("travel_fixed_cents" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "people_travel_per_km_cents_check" CHECK ("travel_per_km_cents" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "people_weekdays_check" CHECK ("weekdays" ~ '^(?=.*1)[01]{7}$'),
  ADD CONSTRAINT "people_notes_check" CHECK (char_length("notes") BETWEEN 1 AND 4000);

ALTER TABLE "tickets"
  ADD CONSTRAINT "tickets_person_check" CHECK ("person" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "tickets_ticket_check" CHECK ("ticket" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "tickets_number_check" CHECK (char_length("number") BETWEEN 1 AND 200),
  ADD CONSTRAINT "tickets_valid_from_to_expires_on_check" CHECK ("valid_from" <= "expires_on");

ALTER TABLE "leave"
  ADD CONSTRAINT "leave_person_check" CHECK ("person" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "leave_reason_check" CHECK (char_length("reason") BETWEEN 1 AND 200),
  ADD CONSTRAINT "leave_from_day_to_to_day_check" CHECK ("from_day" <= "to_day");

ALTER TABLE "crews"
  ADD CONSTRAINT "crews_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "crews_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "crews_base_check" CHECK ("base" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "crews_weekdays_check" CHECK ("weekdays" ~ '^(?=.*1)[01]{7}$'),
  ADD CONSTRAINT "crews_day_cents_check" CHECK ("day_cents" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "crews_standby_day_cents_check" CHECK ("standby_day_cents" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "crews_per_km_cents_check" CHECK ("per_km_cents" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "crews_night_per_head_cents_check" CHECK ("night_per_head_cents" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "crews_max_nights_away_check" CHECK ("max_nights_away" BETWEEN 0 AND 366),
  ADD CONSTRAINT "crews_same_day_drive_min_check" CHECK ("same_day_drive_min" BETWEEN 0 AND 720),
  ADD CONSTRAINT "crews_drive_min_per_day_check" CHECK ("drive_min_per_day" BETWEEN 1 AND 900);

ALTER TABLE "crew_members"
  ADD CONSTRAINT "crew_members_crew_check" CHECK ("crew" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "crew_members_person_check" CHECK ("person" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "crew_members_role_check" CHECK ("role" IN ('lead', 'hand', 'trainee')),
  ADD CONSTRAINT "crew_members_from_day_to_to_day_check" CHECK ("from_day" <= "to_day");

ALTER TABLE "crew_closed_days"
  ADD CONSTRAINT "crew_closed_days_crew_check" CHECK ("crew" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "crew_closed_days_reason_check" CHECK (char_length("reason") BETWEEN 1 AND 200),
  ADD CONSTRAINT "crew_closed_days_from_day_to_to_day_check" CHECK ("from_day" <= "to_day");

ALTER TABLE "vehicles"
  ADD CONSTRAINT "vehicles_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "vehicles_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "vehicles_crew_check" CHECK ("crew" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "vehicles_payload_kg_check" CHECK ("payload_kg" BETWEEN 0 AND 60000),
  ADD CONSTRAINT "vehicles_seats_check" CHECK ("seats" BETWEEN 1 AND 60);

ALTER TABLE "customers"
  ADD CONSTRAINT "customers_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "customers_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "customers_email_check" CHECK (char_length("email") BETWEEN 1 AND 254),
  ADD CONSTRAINT "customers_phone_check" CHECK ("phone" ~ '^\+[1-9][0-9]{6,14}$'),
  ADD CONSTRAINT "customers_language_check" CHECK ("language" ~ '^[a-z]{2,3}(?:-[A-Z]{2})?$'),
  ADD CONSTRAINT "customers_notes_check" CHECK (char_length("notes") BETWEEN 1 AND 4000);

ALTER TABLE "partners"
  ADD CONSTRAINT "partners_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "partners_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "partners_kind_check" CHECK ("kind" IN ('forwarder', 'haulier', 'liftHire', 'lodging', 'other')),
  ADD CONSTRAINT "partners_email_check" CHECK (char_length("email") BETWEEN 1 AND 254),
  ADD CONSTRAINT "partners_phone_check" CHECK ("phone" ~ '^\+[1-9][0-9]{6,14}$'),
  ADD CONSTRAINT "partners_language_check" CHECK ("language" ~ '^[a-z]{2,3}(?:-[A-Z]{2})?$'),
  ADD CONSTRAINT "partners_zone_check" CHECK ("zone" ~ '^[A-Za-z][A-Za-z0-9_+-]*(?:/[A-Za-z0-9_+-]+){0,2}$');

ALTER TABLE "sites"
  ADD CONSTRAINT "sites_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "sites_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "sites_customer_check" CHECK ("customer" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "sites_lat_check" CHECK ("lat" BETWEEN -90 AND 90),
  ADD CONSTRAINT "sites_lon_check" CHECK ("lon" BETWEEN -180 AND 180),
  ADD CONSTRAINT "sites_elevation_m_check" CHECK ("elevation_m" BETWEEN -500 AND 9000),
  ADD CONSTRAINT "sites_zone_check" CHECK ("zone" ~ '^[A-Za-z][A-Za-z0-9_+-]*(?:/[A-Za-z0-9_+-]+){0,2}$'),
  ADD CONSTRAINT "sites_address_check" CHECK (char_length("address") BETWEEN 1 AND 500),
  ADD CONSTRAINT "sites_access_notes_check" CHECK (char_length("access_notes") BETWEEN 1 AND 4000),
  ADD CONSTRAINT "sites_gate_width_m_check" CHECK ("gate_width_m" BETWEEN 0 AND 100),
  ADD CONSTRAINT "sites_slope_pct_check" CHECK ("slope_pct" BETWEEN 0 AND 100),
  ADD CONSTRAINT "sites_ground_kind_check" CHECK ("ground_kind" IN ('sealed', 'gravel', 'firmSoil', 'softSoil', 'sand', 'rock', 'unknown')),
  ADD CONSTRAINT "sites_overhead_lines_check" CHECK ("overhead_lines" IN ('yes', 'no', 'unknown')),
  ADD CONSTRAINT "sites_forklift_on_site_check" CHECK ("forklift_on_site" IN ('yes', 'no', 'unknown')),
  ADD CONSTRAINT "sites_foundation_kind_check" CHECK ("foundation_kind" IN ('pad', 'deck')),
  ADD CONSTRAINT "sites_obstructions_check" CHECK (char_length("obstructions") BETWEEN 1 AND 4000),
  ADD CONSTRAINT "sites_site_storage_days_check" CHECK ("site_storage_days" BETWEEN 0 AND 366),
  ADD CONSTRAINT "sites_weather_area_check" CHECK ("weather_area" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "sites_weather_station_check" CHECK ("weather_station" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$');

ALTER TABLE "site_closed_days"
  ADD CONSTRAINT "site_closed_days_site_check" CHECK ("site" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "site_closed_days_reason_check" CHECK (char_length("reason") BETWEEN 1 AND 200),
  ADD CONSTRAINT "site_closed_days_from_day_to_to_day_check" CHECK ("from_day" <= "to_day");

ALTER TABLE "contacts"
  ADD CONSTRAINT "contacts_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "contacts_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "contacts_customer_check" CHECK ("customer" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "contacts_partner_check" CHECK ("partner" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "contacts_site_check" CHECK ("site" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "contacts_role_check" CHECK (char_length("role") BETWEEN 1 AND 200),
  ADD CONSTRAINT "contacts_email_check" CHECK (char_length("email") BETWEEN 1 AND 254),
  ADD CONSTRAINT "contacts_phone_check" CHECK ("phone" ~ '^\+[1-9][0-9]{6,14}$'),
  ADD CONSTRAINT "contacts_language_check" CHECK ("language" ~ '^[a-z]{2,3}(?:-[A-Z]{2})?$'),
  ADD CONSTRAINT "contacts_one_of_customer_partner_check" CHECK (num_nonnulls("customer", "partner") = 1);

ALTER TABLE "lift_types"
  ADD CONSTRAINT "lift_types_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "lift_types_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "lift_types_rated_load_kg_check" CHECK ("rated_load_kg" BETWEEN 0 AND 1000000),
  ADD CONSTRAINT "lift_types_working_radius_m_check" CHECK ("working_radius_m" BETWEEN 0 AND 200),
  ADD CONSTRAINT "lift_types_lift_height_m_check" CHECK ("lift_height_m" BETWEEN 0 AND 200),
  ADD CONSTRAINT "lift_types_max_gust_mps_check" CHECK ("max_gust_mps" BETWEEN 0 AND 100),
  ADD CONSTRAINT "lift_types_needs_width_m_check" CHECK ("needs_width_m" BETWEEN 0 AND 20),
  ADD CONSTRAINT "lift_types_ground_load_kpa_check" CHECK ("ground_load_kpa" BETWEEN 0 AND 10000),
  ADD CONSTRAINT "lift_types_notes_check" CHECK (char_length("notes") BETWEEN 1 AND 4000);

ALTER TABLE "lifts"
  ADD CONSTRAINT "lifts_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "lifts_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "lifts_type_check" CHECK ("type" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "lifts_depot_lat_check" CHECK ("depot_lat" BETWEEN -90 AND 90),
  ADD CONSTRAINT "lifts_depot_lon_check" CHECK ("depot_lon" BETWEEN -180 AND 180),
  ADD CONSTRAINT "lifts_partner_check" CHECK ("partner" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "lifts_range_km_check" CHECK ("range_km" BETWEEN 0 AND 20000),
  ADD CONSTRAINT "lifts_mobilise_fixed_cents_check" CHECK ("mobilise_fixed_cents" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "lifts_mobilise_per_km_cents_check" CHECK ("mobilise_per_km_cents" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "lifts_day_cents_check" CHECK ("day_cents" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "lifts_min_days_check" CHECK ("min_days" BETWEEN 0 AND 366);

ALTER TABLE "lift_unavailable"
  ADD CONSTRAINT "lift_unavailable_lift_check" CHECK ("lift" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "lift_unavailable_reason_check" CHECK (char_length("reason") BETWEEN 1 AND 200),
  ADD CONSTRAINT "lift_unavailable_from_day_to_to_day_check" CHECK ("from_day" <= "to_day");

ALTER TABLE "equipment_kinds"
  ADD CONSTRAINT "equipment_kinds_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "equipment_kinds_name_check" CHECK (char_length("name") BETWEEN 1 AND 200);

ALTER TABLE "equipment_units"
  ADD CONSTRAINT "equipment_units_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "equipment_units_kind_check" CHECK ("kind" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "equipment_units_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "equipment_units_base_check" CHECK ("base" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$');

ALTER TABLE "equipment_unavailable"
  ADD CONSTRAINT "equipment_unavailable_unit_check" CHECK ("unit" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "equipment_unavailable_reason_check" CHECK (char_length("reason") BETWEEN 1 AND 200),
  ADD CONSTRAINT "equipment_unavailable_from_day_to_to_day_check" CHECK ("from_day" <= "to_day");

ALTER TABLE "build_templates"
  ADD CONSTRAINT "build_templates_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "build_templates_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "build_templates_visit_kind_check" CHECK ("visit_kind" IN ('survey', 'build', 'return', 'service')),
  ADD CONSTRAINT "build_templates_max_gap_days_check" CHECK ("max_gap_days" BETWEEN 0 AND 30);

ALTER TABLE "template_days"
  ADD CONSTRAINT "template_days_template_check" CHECK ("template" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "template_days_day_number_check" CHECK ("day_number" BETWEEN 1 AND 30),
  ADD CONSTRAINT "template_days_hours_check" CHECK ("hours" BETWEEN 0.25 AND 16),
  ADD CONSTRAINT "template_days_hands_check" CHECK ("hands" BETWEEN 1 AND 50),
  ADD CONSTRAINT "template_days_lift_type_check" CHECK ("lift_type" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$');

ALTER TABLE "template_day_tickets"
  ADD CONSTRAINT "template_day_tickets_template_check" CHECK ("template" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "template_day_tickets_day_number_check" CHECK ("day_number" BETWEEN 1 AND 30),
  ADD CONSTRAINT "template_day_tickets_ticket_check" CHECK ("ticket" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "template_day_tickets_count_check" CHECK ("count" BETWEEN 1 AND 50);

ALTER TABLE "template_equipment"
  ADD CONSTRAINT "template_equipment_template_check" CHECK ("template" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "template_equipment_equipment_kind_check" CHECK ("equipment_kind" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "template_equipment_count_check" CHECK ("count" BETWEEN 1 AND 20);

ALTER TABLE "readiness_templates"
  ADD CONSTRAINT "readiness_templates_template_check" CHECK ("template" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "readiness_templates_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "readiness_templates_title_check" CHECK (char_length("title") BETWEEN 1 AND 300),
  ADD CONSTRAINT "readiness_templates_due_days_before_check" CHECK ("due_days_before" BETWEEN 0 AND 366),
  ADD CONSTRAINT "readiness_templates_responsible_check" CHECK ("responsible" IN ('customer', 'manager', 'crew', 'partner')),
  ADD CONSTRAINT "readiness_templates_evidence_check" CHECK ("evidence" IN ('tick', 'number', 'photo', 'document')),
  ADD CONSTRAINT "readiness_templates_unit_check" CHECK (char_length("unit") BETWEEN 1 AND 40),
  ADD CONSTRAINT "readiness_templates_tolerance_low_check" CHECK ("tolerance_low" BETWEEN -1000000 AND 1000000),
  ADD CONSTRAINT "readiness_templates_tolerance_high_check" CHECK ("tolerance_high" BETWEEN -1000000 AND 1000000),
  ADD CONSTRAINT "readiness_templates_tolerance_low_to_tolerance_high_check" CHECK ("tolerance_low" <= "tolerance_high");

ALTER TABLE "steps"
  ADD CONSTRAINT "steps_template_check" CHECK ("template" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "steps_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "steps_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "steps_day_number_check" CHECK ("day_number" BETWEEN 1 AND 30),
  ADD CONSTRAINT "steps_duration_min_check" CHECK ("duration_min" BETWEEN 0 AND 1440),
  ADD CONSTRAINT "steps_min_hands_check" CHECK ("min_hands" BETWEEN 0 AND 50),
  ADD CONSTRAINT "steps_max_hands_check" CHECK ("max_hands" BETWEEN 0 AND 50),
  ADD CONSTRAINT "steps_hold_point_measure_check" CHECK (char_length("hold_point_measure") BETWEEN 1 AND 200),
  ADD CONSTRAINT "steps_hold_point_unit_check" CHECK (char_length("hold_point_unit") BETWEEN 1 AND 40),
  ADD CONSTRAINT "steps_tolerance_low_check" CHECK ("tolerance_low" BETWEEN -1000000 AND 1000000),
  ADD CONSTRAINT "steps_tolerance_high_check" CHECK ("tolerance_high" BETWEEN -1000000 AND 1000000),
  ADD CONSTRAINT "steps_gust_limit_mps_check" CHECK ("gust_limit_mps" BETWEEN 0 AND 100),
  ADD CONSTRAINT "steps_mean_wind_limit_mps_check" CHECK ("mean_wind_limit_mps" BETWEEN 0 AND 100),
  ADD CONSTRAINT "steps_load_height_m_check" CHECK ("load_height_m" BETWEEN 0 AND 200),
  ADD CONSTRAINT "steps_rain_limit_mm_per_hour_check" CHECK ("rain_limit_mm_per_hour" BETWEEN 0 AND 500),
  ADD CONSTRAINT "steps_temperature_min_c_check" CHECK ("temperature_min_c" BETWEEN -60 AND 60),
  ADD CONSTRAINT "steps_temperature_max_c_check" CHECK ("temperature_max_c" BETWEEN -60 AND 60),
  ADD CONSTRAINT "steps_dew_point_margin_c_check" CHECK ("dew_point_margin_c" BETWEEN 0 AND 30),
  ADD CONSTRAINT "steps_dry_after_min_check" CHECK ("dry_after_min" BETWEEN 0 AND 10080),
  ADD CONSTRAINT "steps_caution_check" CHECK (char_length("caution") BETWEEN 1 AND 4000),
  ADD CONSTRAINT "steps_min_hands_to_max_hands_check" CHECK ("min_hands" <= "max_hands"),
  ADD CONSTRAINT "steps_tolerance_low_to_tolerance_high_check" CHECK ("tolerance_low" <= "tolerance_high"),
  ADD CONSTRAINT "steps_temperature_min_c_to_temperature_max_c_check" CHECK ("temperature_min_c" <= "temperature_max_c");

ALTER TABLE "step_precedence"
  ADD CONSTRAINT "step_precedence_template_check" CHECK ("template" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "step_precedence_before_check" CHECK ("before" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "step_precedence_after_check" CHECK ("after" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "step_precedence_min_lag_min_check" CHECK ("min_lag_min" BETWEEN 0 AND 100000),
  ADD CONSTRAINT "step_precedence_max_lag_min_check" CHECK ("max_lag_min" BETWEEN 0 AND 100000),
  ADD CONSTRAINT "step_precedence_min_lag_min_to_max_lag_min_check" CHECK ("min_lag_min" <= "max_lag_min");

ALTER TABLE "step_tickets"
  ADD CONSTRAINT "step_tickets_template_check" CHECK ("template" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "step_tickets_step_check" CHECK ("step" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "step_tickets_ticket_check" CHECK ("ticket" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "step_tickets_count_check" CHECK ("count" BETWEEN 1 AND 50);

ALTER TABLE "step_equipment"
  ADD CONSTRAINT "step_equipment_template_check" CHECK ("template" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "step_equipment_step_check" CHECK ("step" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "step_equipment_equipment_kind_check" CHECK ("equipment_kind" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$');

ALTER TABLE "kits"
  ADD CONSTRAINT "kits_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "kits_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "kits_diameter_m_check" CHECK ("diameter_m" BETWEEN 0 AND 100),
  ADD CONSTRAINT "kits_height_m_check" CHECK ("height_m" BETWEEN 0 AND 100),
  ADD CONSTRAINT "kits_mass_kg_check" CHECK ("mass_kg" BETWEEN 0 AND 100000),
  ADD CONSTRAINT "kits_pallets_check" CHECK ("pallets" BETWEEN 0 AND 1000),
  ADD CONSTRAINT "kits_bays_check" CHECK ("bays" BETWEEN 0 AND 1000),
  ADD CONSTRAINT "kits_heaviest_part_kg_check" CHECK ("heaviest_part_kg" BETWEEN 0 AND 100000),
  ADD CONSTRAINT "kits_panel_area_m2_check" CHECK ("panel_area_m2" BETWEEN 0 AND 1000),
  ADD CONSTRAINT "kits_lift_height_m_check" CHECK ("lift_height_m" BETWEEN 0 AND 100),
  ADD CONSTRAINT "kits_make_safe_gust_mps_check" CHECK ("make_safe_gust_mps" BETWEEN 0 AND 100),
  ADD CONSTRAINT "kits_notes_check" CHECK (char_length("notes") BETWEEN 1 AND 4000);

ALTER TABLE "kit_parts"
  ADD CONSTRAINT "kit_parts_kit_check" CHECK ("kit" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "kit_parts_part_check" CHECK ("part" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "kit_parts_name_check" CHECK (char_length("name") BETWEEN 1 AND 200),
  ADD CONSTRAINT "kit_parts_mass_kg_check" CHECK ("mass_kg" BETWEEN 0 AND 100000),
  ADD CONSTRAINT "kit_parts_count_check" CHECK ("count" BETWEEN 1 AND 10000),
  ADD CONSTRAINT "kit_parts_length_m_check" CHECK ("length_m" BETWEEN 0 AND 100),
  ADD CONSTRAINT "kit_parts_width_m_check" CHECK ("width_m" BETWEEN 0 AND 100),
  ADD CONSTRAINT "kit_parts_area_m2_check" CHECK ("area_m2" BETWEEN 0 AND 1000),
  ADD CONSTRAINT "kit_parts_lift_height_m_check" CHECK ("lift_height_m" BETWEEN 0 AND 100),
  ADD CONSTRAINT "kit_parts_grip_height_m_check" CHECK ("grip_height_m" BETWEEN 0 AND 10);

ALTER TABLE "kit_templates"
  ADD CONSTRAINT "kit_templates_kit_check" CHECK ("kit" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "kit_templates_visit_kind_check" CHECK ("visit_kind" IN ('survey', 'build', 'return', 'service')),
  ADD CONSTRAINT "kit_templates_template_check" CHECK ("template" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$');

ALTER TABLE "jobs"
  ADD CONSTRAINT "jobs_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "jobs_site_check" CHECK ("site" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "jobs_visit_kind_check" CHECK ("visit_kind" IN ('survey', 'build', 'return', 'service')),
  ADD CONSTRAINT "jobs_title_check" CHECK (char_length("title") BETWEEN 1 AND 200),
  ADD CONSTRAINT "jobs_template_check" CHECK ("template" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "jobs_late_cents_per_day_check" CHECK ("late_cents_per_day" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "jobs_not_planned_cents_check" CHECK ("not_planned_cents" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "jobs_warehouse_check" CHECK ("warehouse" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "jobs_pinned_crew_check" CHECK ("pinned_crew" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "jobs_pin_reason_check" CHECK (char_length("pin_reason") BETWEEN 1 AND 500),
  ADD CONSTRAINT "jobs_published_crew_check" CHECK ("published_crew" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "jobs_notes_check" CHECK (char_length("notes") BETWEEN 1 AND 4000);

ALTER TABLE "job_kits"
  ADD CONSTRAINT "job_kits_job_check" CHECK ("job" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "job_kits_kit_check" CHECK ("kit" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "job_kits_count_check" CHECK ("count" BETWEEN 1 AND 100);

ALTER TABLE "readiness_items"
  ADD CONSTRAINT "readiness_items_job_check" CHECK ("job" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "readiness_items_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "readiness_items_title_check" CHECK (char_length("title") BETWEEN 1 AND 300),
  ADD CONSTRAINT "readiness_items_due_days_before_check" CHECK ("due_days_before" BETWEEN 0 AND 366),
  ADD CONSTRAINT "readiness_items_responsible_check" CHECK ("responsible" IN ('customer', 'manager', 'crew', 'partner')),
  ADD CONSTRAINT "readiness_items_evidence_check" CHECK ("evidence" IN ('tick', 'number', 'photo', 'document')),
  ADD CONSTRAINT "readiness_items_unit_check" CHECK (char_length("unit") BETWEEN 1 AND 40),
  ADD CONSTRAINT "readiness_items_tolerance_low_check" CHECK ("tolerance_low" BETWEEN -1000000 AND 1000000),
  ADD CONSTRAINT "readiness_items_tolerance_high_check" CHECK ("tolerance_high" BETWEEN -1000000 AND 1000000),
  ADD CONSTRAINT "readiness_items_state_check" CHECK ("state" IN ('open', 'claimed', 'accepted', 'refused', 'waived')),
  ADD CONSTRAINT "readiness_items_value_check" CHECK ("value" BETWEEN -1000000 AND 1000000),
  ADD CONSTRAINT "readiness_items_remark_check" CHECK (char_length("remark") BETWEEN 1 AND 4000),
  ADD CONSTRAINT "readiness_items_tolerance_low_to_tolerance_high_check" CHECK ("tolerance_low" <= "tolerance_high");

ALTER TABLE "consignments"
  ADD CONSTRAINT "consignments_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "consignments_partner_check" CHECK ("partner" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "consignments_warehouse_check" CHECK ("warehouse" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "consignments_lot_number_check" CHECK (char_length("lot_number") BETWEEN 1 AND 200),
  ADD CONSTRAINT "consignments_port_name_check" CHECK (char_length("port_name") BETWEEN 1 AND 200);

ALTER TABLE "consignment_jobs"
  ADD CONSTRAINT "consignment_jobs_consignment_check" CHECK ("consignment" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "consignment_jobs_job_check" CHECK ("job" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$');

ALTER TABLE "containers"
  ADD CONSTRAINT "containers_number_check" CHECK ("number" ~ '^[A-Z]{3}[UJZ][0-9]{7}$'),
  ADD CONSTRAINT "containers_consignment_check" CHECK ("consignment" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "containers_free_days_check" CHECK ("free_days" BETWEEN 0 AND 366),
  ADD CONSTRAINT "containers_day_cost_cents_check" CHECK ("day_cost_cents" BETWEEN 0 AND 9000000000000);

ALTER TABLE "milestones"
  ADD CONSTRAINT "milestones_consignment_check" CHECK ("consignment" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "milestones_container_check" CHECK ("container" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "milestones_kind_check" CHECK ("kind" IN ('readyAtWorks', 'loaded', 'sailed', 'arrived', 'released', 'collected', 'unpacked', 'partsChecked', 'readyToGo')),
  ADD CONSTRAINT "milestones_low_days_check" CHECK ("low_days" BETWEEN 0 AND 366),
  ADD CONSTRAINT "milestones_likely_days_check" CHECK ("likely_days" BETWEEN 0 AND 366),
  ADD CONSTRAINT "milestones_high_days_check" CHECK ("high_days" BETWEEN 0 AND 366),
  ADD CONSTRAINT "milestones_source_check" CHECK (char_length("source") BETWEEN 1 AND 200),
  ADD CONSTRAINT "milestones_low_days_to_likely_days_check" CHECK ("low_days" <= "likely_days"),
  ADD CONSTRAINT "milestones_low_days_to_high_days_check" CHECK ("low_days" <= "high_days"),
  ADD CONSTRAINT "milestones_likely_days_to_high_days_check" CHECK ("likely_days" <= "high_days"),
  ADD CONSTRAINT "milestones_one_of_consignment_container_check" CHECK (num_nonnulls("consignment", "container") = 1);

ALTER TABLE "delivery_runs"
  ADD CONSTRAINT "delivery_runs_job_check" CHECK ("job" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "delivery_runs_haulier_check" CHECK ("haulier" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "delivery_runs_truck_kind_check" CHECK ("truck_kind" IN ('craneTruck', 'flatbed')),
  ADD CONSTRAINT "delivery_runs_state_check" CHECK ("state" IN ('needed', 'asked', 'confirmed', 'done', 'off')),
  ADD CONSTRAINT "delivery_runs_reference_check" CHECK (char_length("reference") BETWEEN 1 AND 200);

ALTER TABLE "lift_hires"
  ADD CONSTRAINT "lift_hires_job_check" CHECK ("job" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "lift_hires_lift_check" CHECK ("lift" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "lift_hires_state_check" CHECK ("state" IN ('needed', 'asked', 'held', 'confirmed', 'off')),
  ADD CONSTRAINT "lift_hires_reference_check" CHECK (char_length("reference") BETWEEN 1 AND 200),
  ADD CONSTRAINT "lift_hires_from_day_to_to_day_check" CHECK ("from_day" <= "to_day");

ALTER TABLE "bookings"
  ADD CONSTRAINT "bookings_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "bookings_job_check" CHECK ("job" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "bookings_crew_check" CHECK ("crew" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "bookings_kind_check" CHECK ("kind" IN ('bed', 'ferry', 'flight')),
  ADD CONSTRAINT "bookings_partner_check" CHECK ("partner" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "bookings_state_check" CHECK ("state" IN ('needed', 'asked', 'confirmed', 'off')),
  ADD CONSTRAINT "bookings_fee_cents_check" CHECK ("fee_cents" BETWEEN 0 AND 9000000000000),
  ADD CONSTRAINT "bookings_reference_check" CHECK (char_length("reference") BETWEEN 1 AND 200),
  ADD CONSTRAINT "bookings_from_day_to_to_day_check" CHECK ("from_day" <= "to_day"),
  ADD CONSTRAINT "bookings_one_of_job_crew_check" CHECK (num_nonnulls("job", "crew") = 1);

ALTER TABLE "travel_overrides"
  ADD CONSTRAINT "travel_overrides_from_place_check" CHECK ("from_place" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "travel_overrides_to_place_check" CHECK ("to_place" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "travel_overrides_km_check" CHECK ("km" BETWEEN 0 AND 20000),
  ADD CONSTRAINT "travel_overrides_drive_min_check" CHECK ("drive_min" BETWEEN 0 AND 20000),
  ADD CONSTRAINT "travel_overrides_wait_min_check" CHECK ("wait_min" BETWEEN 0 AND 20000),
  ADD CONSTRAINT "travel_overrides_source_check" CHECK (char_length("source") BETWEEN 1 AND 200),
  ADD CONSTRAINT "travel_overrides_notes_check" CHECK (char_length("notes") BETWEEN 1 AND 4000);

-- What happens around the season: allowed values and orders of days.

ALTER TABLE "organisations"
  ADD CONSTRAINT "organisations_key_check" CHECK ("key" ~ '^[A-Za-z0-9][A-Za-z0-9._-]{0,63}$'),
  ADD CONSTRAINT "organisations_name_check" CHECK (char_length("name") BETWEEN 1 AND 200);

ALTER TABLE "users"
  ADD CONSTRAINT "users_email_check" CHECK ("email" = lower("email") AND "email" ~ '^[^\s@]+@[^\s@]+$');

ALTER TABLE "memberships"
  ADD CONSTRAINT "memberships_role_check" CHECK ("role" IN ('manager', 'crew', 'customer', 'partner')),
  ADD CONSTRAINT "memberships_subject_key_check" CHECK (("role" = 'manager') = ("subject_key" IS NULL));

ALTER TABLE "sign_in_links"
  ADD CONSTRAINT "sign_in_links_token_hash_check" CHECK ("token_hash" ~ '^[0-9a-f]{64}$');

ALTER TABLE "sessions"
  ADD CONSTRAINT "sessions_token_hash_check" CHECK ("token_hash" ~ '^[0-9a-f]{64}$');

ALTER TABLE "api_tokens"
  ADD CONSTRAINT "api_tokens_token_hash_check" CHECK ("token_hash" ~ '^[0-9a-f]{64}$');

ALTER TABLE "action_links"
  ADD CONSTRAINT "action_links_token_hash_check" CHECK ("token_hash" ~ '^[0-9a-f]{64}$'),
  ADD CONSTRAINT "action_links_purpose_check" CHECK ("purpose" ~ '^[a-z]+(-[a-z]+)*$'),
  ADD CONSTRAINT "action_links_recipient_kind_check" CHECK ("recipient_kind" IN ('person', 'customer', 'partner', 'user'));

ALTER TABLE "plans"
  ADD CONSTRAINT "plans_status_check" CHECK ("status" IN ('draft', 'published', 'superseded', 'discarded')),
  ADD CONSTRAINT "plans_published_at_check" CHECK (("status" IN ('published', 'superseded')) = ("published_at" IS NOT NULL)),
  ADD CONSTRAINT "plans_total_cents_check" CHECK ("total_cents" >= 0),
  ADD CONSTRAINT "plans_bound_cents_check" CHECK ("bound_cents" <= "total_cents");

CREATE UNIQUE INDEX "plans_one_published" ON "plans" ("season_id") WHERE "status" = 'published';

ALTER TABLE "plan_runs"
  ADD CONSTRAINT "plan_runs_state_check" CHECK ("state" IN ('queued', 'running', 'done', 'failed', 'stopped')),
  ADD CONSTRAINT "plan_runs_finished_at_check" CHECK (("state" IN ('done', 'failed', 'stopped')) = ("finished_at" IS NOT NULL));

CREATE INDEX "plan_runs_open" ON "plan_runs" ("created_at") WHERE "state" IN ('queued', 'running');

ALTER TABLE "visits"
  ADD CONSTRAINT "visits_state_check" CHECK ("state" IN ('planned', 'underway', 'done', 'cancelled')),
  ADD CONSTRAINT "visits_days_check" CHECK ("start_day" <= "end_day" AND "end_day" <= "release_day"),
  ADD CONSTRAINT "visits_delivery_day_check" CHECK ("delivery_day" <= "start_day"),
  ADD CONSTRAINT "visits_sequence_check" CHECK ("sequence" >= 0);

ALTER TABLE "visit_days"
  ADD CONSTRAINT "visit_days_kind_check" CHECK ("kind" IN ('site', 'reserve')),
  ADD CONSTRAINT "visit_days_day_number_check" CHECK ("day_number" >= 1);

ALTER TABLE "assignments"
  ADD CONSTRAINT "assignments_role_check" CHECK ("role" IN ('lead', 'hand', 'trainee', 'casual')),
  ADD CONSTRAINT "assignments_state_check" CHECK ("state" IN ('asked', 'accepted', 'declined', 'cancelled')),
  ADD CONSTRAINT "assignments_days_check" CHECK ("from_day" <= "to_day"),
  ADD CONSTRAINT "assignments_ical_sequence_check" CHECK ("ical_sequence" >= 0);

ALTER TABLE "lift_holds"
  ADD CONSTRAINT "lift_holds_state_check" CHECK ("state" IN ('needed', 'asked', 'held', 'confirmed', 'declined', 'off')),
  ADD CONSTRAINT "lift_holds_days_check" CHECK ("from_day" <= "to_day");

ALTER TABLE "equipment_holds"
  ADD CONSTRAINT "equipment_holds_state_check" CHECK ("state" IN ('held', 'off')),
  ADD CONSTRAINT "equipment_holds_days_check" CHECK ("from_day" <= "to_day");

ALTER TABLE "reminders"
  ADD CONSTRAINT "reminders_state_check" CHECK ("state" IN ('pending', 'done', 'cancelled', 'skipped')),
  ADD CONSTRAINT "reminders_local_time_check" CHECK ("local_time" ~ '^(?:[01][0-9]|2[0-3]):[0-5][0-9]$'),
  ADD CONSTRAINT "reminders_recipient_kind_check" CHECK ("recipient_kind" IN ('person', 'customer', 'partner', 'user'));

CREATE INDEX "reminders_due" ON "reminders" ("due_at") WHERE "state" = 'pending';

ALTER TABLE "deliveries"
  ADD CONSTRAINT "deliveries_state_check" CHECK ("state" IN ('pending', 'sending', 'handing_over', 'sent', 'failed', 'uncertain', 'held', 'cancelled')),
  ADD CONSTRAINT "deliveries_channel_check" CHECK ("channel" IN ('mail', 'text', 'push', 'webhook')),
  ADD CONSTRAINT "deliveries_recipient_kind_check" CHECK ("recipient_kind" IN ('person', 'customer', 'partner', 'user')),
  ADD CONSTRAINT "deliveries_sent_at_check" CHECK ("state" <> 'sent' OR "sent_at" IS NOT NULL),
  ADD CONSTRAINT "deliveries_attempts_check" CHECK ("attempts" >= 0);

CREATE INDEX "deliveries_open" ON "deliveries" ("not_before") WHERE "state" IN ('pending', 'sending', 'handing_over');

ALTER TABLE "confirmations"
  ADD CONSTRAINT "confirmations_source_check" CHECK ("source" IN ('link', 'mail', 'manager')),
  ADD CONSTRAINT "confirmations_proposed_day_check" CHECK (("answer" = 'proposed') = ("proposed_day" IS NOT NULL));

ALTER TABLE "visit_records"
  ADD CONSTRAINT "visit_records_kind_check" CHECK ("kind" IN ('time', 'holdPoint', 'weatherDelay', 'note', 'handover')),
  ADD CONSTRAINT "visit_records_times_check" CHECK ("started_at" <= "ended_at");

ALTER TABLE "snags"
  ADD CONSTRAINT "snags_state_check" CHECK ("state" IN ('open', 'closed')),
  ADD CONSTRAINT "snags_closed_at_check" CHECK (("state" = 'closed') = ("closed_at" IS NOT NULL));

ALTER TABLE "documents"
  ADD CONSTRAINT "documents_byte_size_check" CHECK ("byte_size" >= 0),
  ADD CONSTRAINT "documents_sha256_check" CHECK ("sha256" ~ '^[0-9a-f]{64}$');

ALTER TABLE "weather_series"
  ADD CONSTRAINT "weather_series_kind_check" CHECK ("kind" IN ('record', 'forecast')),
  ADD CONSTRAINT "weather_series_lat_check" CHECK ("lat" BETWEEN -90 AND 90),
  ADD CONSTRAINT "weather_series_lon_check" CHECK ("lon" BETWEEN -180 AND 180);

ALTER TABLE "weather_observations"
  ADD CONSTRAINT "weather_observations_rain_mm_check" CHECK ("rain_mm" >= 0),
  ADD CONSTRAINT "weather_observations_wind_mps_check" CHECK ("wind_mps" >= 0),
  ADD CONSTRAINT "weather_observations_gust_mps_check" CHECK ("gust_mps" >= 0);

ALTER TABLE "weather_forecasts"
  ADD CONSTRAINT "weather_forecasts_rain_mm_check" CHECK ("rain_mm" >= 0),
  ADD CONSTRAINT "weather_forecasts_wind_mps_check" CHECK ("wind_mps" >= 0),
  ADD CONSTRAINT "weather_forecasts_gust_mps_check" CHECK ("gust_mps" >= 0);

CREATE INDEX "outbox_waiting" ON "outbox" ("id") WHERE "relayed_at" IS NULL;

ALTER TABLE "audit"
  ADD CONSTRAINT "audit_actor_kind_check" CHECK ("actor_kind" IN ('user', 'link', 'system'));

-- Nothing is in two places at once. All can be deferred, so that one transaction may swap two of them.

CREATE EXTENSION IF NOT EXISTS btree_gist;

ALTER TABLE "crew_members"
  ADD CONSTRAINT "crew_members_person_overlap" EXCLUDE USING gist (
    "season_id" WITH =, "person" WITH =, daterange("from_day", "to_day", '[]') WITH &&
  ) DEFERRABLE INITIALLY IMMEDIATE;

ALTER TABLE "leave"
  ADD CONSTRAINT "leave_person_overlap" EXCLUDE USING gist (
    "season_id" WITH =, "person" WITH =, daterange("from_day", "to_day", '[]') WITH &&
  ) DEFERRABLE INITIALLY IMMEDIATE;

ALTER TABLE "lift_hires"
  ADD CONSTRAINT "lift_hires_lift_overlap" EXCLUDE USING gist (
    "season_id" WITH =, "lift" WITH =, daterange("from_day", "to_day", '[]') WITH &&
  ) WHERE ("state" IN ('held', 'confirmed')) DEFERRABLE INITIALLY IMMEDIATE;

ALTER TABLE "visits"
  ADD CONSTRAINT "visits_crew_overlap" EXCLUDE USING gist (
    "season_id" WITH =, "crew" WITH =, daterange("start_day", "release_day", '[]') WITH &&
  ) WHERE ("state" IN ('planned', 'underway')) DEFERRABLE INITIALLY IMMEDIATE;

ALTER TABLE "assignments"
  ADD CONSTRAINT "assignments_person_overlap" EXCLUDE USING gist (
    "season_id" WITH =, "person" WITH =, daterange("from_day", "to_day", '[]') WITH &&
  ) WHERE ("state" IN ('asked', 'accepted')) DEFERRABLE INITIALLY IMMEDIATE;

ALTER TABLE "lift_holds"
  ADD CONSTRAINT "lift_holds_lift_overlap" EXCLUDE USING gist (
    "season_id" WITH =, "lift" WITH =, daterange("from_day", "to_day", '[]') WITH &&
  ) WHERE ("state" IN ('needed', 'asked', 'held', 'confirmed')) DEFERRABLE INITIALLY IMMEDIATE;

ALTER TABLE "equipment_holds"
  ADD CONSTRAINT "equipment_holds_unit_overlap" EXCLUDE USING gist (
    "season_id" WITH =, "unit" WITH =, daterange("from_day", "to_day", '[]') WITH &&
  ) WHERE ("state" = 'held') DEFERRABLE INITIALLY IMMEDIATE;

-- References may be checked at the end of a transaction, so that a whole season can be exchanged in one.

DO $$
DECLARE link record;
BEGIN
  FOR link IN
    SELECT conrelid::regclass AS tbl, conname FROM pg_constraint
    WHERE contype = 'f' AND connamespace = current_schema()::regnamespace AND confdeltype = 'a'
      AND NOT condeferrable AND conparentid = 0
  LOOP
    EXECUTE format('ALTER TABLE %s ALTER CONSTRAINT %I DEFERRABLE INITIALLY IMMEDIATE', link.tbl, link.conname);
  END LOOP;
END $$;

-- `version` and `updated_at` follow each real change, whoever makes it.

CREATE FUNCTION "touch_row"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  NEW.version := OLD.version + 1;
  NEW.updated_at := now();
  RETURN NEW;
END $$;

DO $$
DECLARE name text;
BEGIN
  FOR name IN
    SELECT c.table_name FROM information_schema.columns c
    WHERE c.table_schema = current_schema() AND c.column_name = 'version'
  LOOP
    EXECUTE format('CREATE TRIGGER touch BEFORE UPDATE ON %I FOR EACH ROW WHEN (OLD.* IS DISTINCT FROM NEW.*)
      EXECUTE FUNCTION "touch_row"()', name);
  END LOOP;
END $$;

-- Places, warehouses and sites share one space of keys, which travel overrides refer to.

CREATE FUNCTION "keep_map_place"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' THEN
    DELETE FROM "map_places" WHERE season_id = OLD.season_id AND key = OLD.key AND kind = TG_TABLE_NAME;
  ELSIF TG_OP = 'UPDATE' THEN
    UPDATE "map_places" SET key = NEW.key WHERE season_id = OLD.season_id AND key = OLD.key;
  ELSE
    INSERT INTO "map_places" (season_id, key, kind) VALUES (NEW.season_id, NEW.key, TG_TABLE_NAME);
  END IF;
  RETURN NULL;
END $$;

CREATE TRIGGER keep_map_place AFTER INSERT OR DELETE OR UPDATE OF "key" ON "places"
  FOR EACH ROW EXECUTE FUNCTION "keep_map_place"();
CREATE TRIGGER keep_map_place AFTER INSERT OR DELETE OR UPDATE OF "key" ON "warehouses"
  FOR EACH ROW EXECUTE FUNCTION "keep_map_place"();
CREATE TRIGGER keep_map_place AFTER INSERT OR DELETE OR UPDATE OF "key" ON "sites"
  FOR EACH ROW EXECUTE FUNCTION "keep_map_place"();

-- A readiness item is due a number of days before the visit starts; without a planned visit it is not due.

CREATE FUNCTION "set_due_on"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  NEW.due_on := (
    SELECT start_day - NEW.due_days_before FROM "visits"
    WHERE season_id = NEW.season_id AND job = NEW.job AND state IN ('planned', 'underway')
  );
  RETURN NEW;
END $$;

-- Triggers of one kind run in the order of their names: this one before "touch", which looks for changes.
CREATE TRIGGER due_on BEFORE INSERT OR UPDATE ON "readiness_items"
  FOR EACH ROW EXECUTE FUNCTION "set_due_on"();

-- The audit is only added to.

CREATE FUNCTION "refuse_audit_change"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'the audit can only be added to' USING ERRCODE = '42501';
END $$;

CREATE TRIGGER append_only BEFORE UPDATE OR DELETE ON "audit"
  FOR EACH ROW EXECUTE FUNCTION "refuse_audit_change"();
CREATE TRIGGER append_only_truncate BEFORE TRUNCATE ON "audit"
  FOR EACH STATEMENT EXECUTE FUNCTION "refuse_audit_change"();

-- Weather lies in one partition a year, in a schema of their own; what fits in none goes to a default partition.

CREATE SCHEMA IF NOT EXISTS "weather_parts";
CREATE TABLE "weather_parts"."observations_default" PARTITION OF "weather_observations" DEFAULT;
CREATE TABLE "weather_parts"."forecasts_default" PARTITION OF "weather_forecasts" DEFAULT;

CREATE FUNCTION "ensure_weather_year"(year integer) RETURNS void LANGUAGE plpgsql AS $$
DECLARE
  part record;
  low timestamptz := make_timestamptz(year, 1, 1, 0, 0, 0, 'UTC');
  high timestamptz := make_timestamptz(year + 1, 1, 1, 0, 0, 0, 'UTC');
BEGIN
  FOR part IN SELECT * FROM (VALUES
    ('observations', 'weather_observations', 'observed_at'), ('forecasts', 'weather_forecasts', 'valid_at')
  ) AS p(short, parent, moment)
  LOOP
    CONTINUE WHEN to_regclass(format('weather_parts.%I', part.short || '_' || year)) IS NOT NULL;
    -- Rows that already lie in the default partition must leave it before the year can be cut out.
    EXECUTE format('CREATE TABLE weather_parts.%I (LIKE %I INCLUDING ALL)', part.short || '_' || year, part.parent);
    EXECUTE format('WITH moved AS (DELETE FROM weather_parts.%I WHERE %I >= %L AND %I < %L RETURNING *)
      INSERT INTO weather_parts.%I SELECT * FROM moved',
      part.short || '_default', part.moment, low, part.moment, high, part.short || '_' || year);
    EXECUTE format('ALTER TABLE %I ATTACH PARTITION weather_parts.%I FOR VALUES FROM (%L) TO (%L)',
      part.parent, part.short || '_' || year, low, high);
  END LOOP;
END $$;

SELECT "ensure_weather_year"(year) FROM generate_series(2005, 2030) AS year;
