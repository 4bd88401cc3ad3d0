CREATE TABLE attachment (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  of_table VARCHAR NOT NULL,
  of_row VARCHAR NOT NULL,
  sha256 VARCHAR NOT NULL,
  name VARCHAR NOT NULL,
  size_bytes INTEGER,
  taken_at VARCHAR NOT NULL,
  position VARCHAR NOT NULL,
  note VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_attachment_job_id ON attachment (job_id);
CREATE TABLE backfill (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  zone_id VARCHAR,
  cover_in FLOAT,
  rock_free BOOLEAN,
  heads_plumb BOOLEAN,
  heads_at_grade BOOLEAN,
  bedding BOOLEAN,
  warning_tape BOOLEAN,
  signed_by VARCHAR NOT NULL,
  signed_at VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_backfill_job_id ON backfill (job_id);
CREATE TABLE backflow_assembly (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  name VARCHAR NOT NULL,
  kind VARCHAR,
  make VARCHAR NOT NULL,
  model VARCHAR NOT NULL,
  size VARCHAR,
  serial VARCHAR NOT NULL,
  installed_on VARCHAR,
  moved_on VARCHAR,
  repaired_on VARCHAR,
  inspected_on VARCHAR,
  inspected_by VARCHAR NOT NULL,
  critical_level_ft FLOAT,
  above_grade_in FLOAT,
  loss_psi FLOAT,
  loss_curve VARCHAR NOT NULL,
  valve_after BOOLEAN,
  back_pressure BOOLEAN,
  drain BOOLEAN,
  exposed_pvc BOOLEAN,
  pvc_painted BOOLEAN,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_backflow_assembly_job_id ON backflow_assembly (job_id);
CREATE TABLE backflow_test (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  assembly_id VARCHAR,
  tested_on VARCHAR,
  tester VARCHAR NOT NULL,
  tester_no VARCHAR NOT NULL,
  check_1_psi FLOAT,
  check_2_psi FLOAT,
  relief_psi FLOAT,
  inlet_psi FLOAT,
  check_1_tight BOOLEAN,
  check_2_tight BOOLEAN,
  opened_fully BOOLEAN,
  certified BOOLEAN,
  why VARCHAR,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_backflow_test_job_id ON backflow_test (job_id);
CREATE TABLE board_line (
  id INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
  job_id VARCHAR NOT NULL,
  sort_key VARCHAR NOT NULL,
  sought VARCHAR NOT NULL,
  until VARCHAR NOT NULL,
  told VARCHAR NOT NULL,
  places VARCHAR,
  runs_out VARCHAR,
  closed INTEGER,
  UNIQUE (job_id)
);
CREATE INDEX board_line_order ON board_line (sort_key, job_id, sought, closed);
CREATE INDEX board_line_until ON board_line (until);
CREATE TABLE cable (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  name VARCHAR NOT NULL,
  gauge_awg VARCHAR,
  common_colour VARCHAR,
  common_waterproof BOOLEAN,
  cover_in FLOAT,
  under_driveway BOOLEAN,
  fed_from VARCHAR,
  common_with VARCHAR,
  controller_id VARCHAR,
  second_controller_id VARCHAR,
  second_common_colour VARCHAR,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_cable_job_id ON cable (job_id);
CREATE TABLE catch_audit (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  visit_id VARCHAR,
  zone_id VARCHAR,
  zone_2_id VARCHAR,
  zone_3_id VARCHAR,
  held_on VARCHAR,
  run_min FLOAT,
  wind_mph FLOAT,
  caught_as VARCHAR,
  throat_in FLOAT,
  quarter_rule VARCHAR,
  note VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_catch_audit_job_id ON catch_audit (job_id);
CREATE TABLE catch_can (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  audit_id VARCHAR NOT NULL,
  number INTEGER,
  caught_ml FLOAT,
  depth_in FLOAT,
  along_ft FLOAT,
  out_ft FLOAT,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_catch_can_job_id ON catch_can (job_id);
CREATE TABLE change_order (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  number INTEGER,
  asked_on VARCHAR,
  changed VARCHAR NOT NULL,
  why VARCHAR NOT NULL,
  price FLOAT,
  agreed_by VARCHAR NOT NULL,
  agreed_how VARCHAR,
  agreed_at VARCHAR,
  refused BOOLEAN,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_change_order_job_id ON change_order (job_id);
CREATE TABLE commissioning (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  visit_id VARCHAR,
  held_on VARCHAR,
  held_by VARCHAR NOT NULL,
  static_psi FLOAT,
  static_after_psi FLOAT,
  meter_still BOOLEAN,
  flushed BOOLEAN,
  heads_at_pressure BOOLEAN,
  radius_set BOOLEAN,
  none_on_paving BOOLEAN,
  sensors_work BOOLEAN,
  no_leaks BOOLEAN,
  user_taught BOOLEAN,
  valves_shut BOOLEAN,
  filter_clean BOOLEAN,
  clock_set BOOLEAN,
  battery_works BOOLEAN,
  note VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_commissioning_job_id ON commissioning (job_id);
CREATE TABLE conductor (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  cable_id VARCHAR NOT NULL,
  position INTEGER,
  colour VARCHAR,
  kept BOOLEAN,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_conductor_job_id ON conductor (job_id);
CREATE TABLE "conflict" (
  row_id VARCHAR NOT NULL,
  "table" VARCHAR NOT NULL,
  "column" VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  kind VARCHAR NOT NULL,
  heads VARCHAR NOT NULL,
  PRIMARY KEY (row_id, "table", "column")
);
CREATE INDEX ix_conflict_job_id ON "conflict" (job_id);
CREATE TABLE controller (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  location VARCHAR NOT NULL,
  make VARCHAR NOT NULL,
  model VARCHAR NOT NULL,
  serial VARCHAR NOT NULL,
  stations INTEGER,
  outdoors BOOLEAN,
  outdoor_model BOOLEAN,
  supply_near BOOLEAN,
  wire_in_conduit BOOLEAN,
  rain_sensor BOOLEAN,
  powered_by VARCHAR,
  box_id VARCHAR,
  transformer_va INTEGER,
  output_v FLOAT,
  pull_in_v FLOAT,
  inrush_a FLOAT,
  holding_a FLOAT,
  relay_a FLOAT,
  soil_deg_f INTEGER,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_controller_job_id ON controller (job_id);
CREATE TABLE crew_member (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  name VARCHAR NOT NULL,
  role VARCHAR,
  licence VARCHAR NOT NULL,
  expires_on VARCHAR,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_crew_member_job_id ON crew_member (job_id);
CREATE TABLE decoder (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  address INTEGER,
  output INTEGER,
  zone_id VARCHAR,
  on_master BOOLEAN,
  box_id VARCHAR,
  path_id VARCHAR,
  like_to_like BOOLEAN,
  joins_waterproof BOOLEAN,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_decoder_job_id ON decoder (job_id);
CREATE TABLE drain_point (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  "where" VARCHAR NOT NULL,
  zone_id VARCHAR,
  how VARCHAR,
  note VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_drain_point_job_id ON drain_point (job_id);
CREATE TABLE exchange_file (
  name VARCHAR NOT NULL,
  upto INTEGER NOT NULL,
  PRIMARY KEY (name)
);
CREATE TABLE exchange_place (
  id VARCHAR NOT NULL,
  got INTEGER NOT NULL,
  got_id VARCHAR NOT NULL,
  at VARCHAR NOT NULL,
  PRIMARY KEY (id)
);
CREATE TABLE fixed_point (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  name VARCHAR NOT NULL,
  along_ft FLOAT,
  out_ft FLOAT,
  faces VARCHAR,
  east_ft FLOAT,
  north_ft FLOAT,
  lat_deg FLOAT,
  lon_deg FLOAT,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_fixed_point_job_id ON fixed_point (job_id);
CREATE TABLE flow_test_point (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  residual_psi FLOAT,
  flow_gpm FLOAT,
  bucket_gal FLOAT,
  bucket_s FLOAT,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_flow_test_point_job_id ON flow_test_point (job_id);
CREATE TABLE flush (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  zone_id VARCHAR,
  let_on_by VARCHAR,
  came_out_at VARCHAR,
  ran_clear BOOLEAN,
  bleed_closed BOOLEAN,
  tops_back BOOLEAN,
  main_valve_on BOOLEAN,
  tops_off BOOLEAN,
  bleed_open BOOLEAN,
  clear_min FLOAT,
  discharged VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_flush_job_id ON flush (job_id);
CREATE TABLE head (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  run_id VARCHAR NOT NULL,
  kind VARCHAR,
  nozzle_gpm FLOAT,
  rated_psi FLOAT,
  regulated_psi FLOAT,
  min_psi FLOAT,
  max_psi FLOAT,
  arc_deg FLOAT,
  radius_ft FLOAT,
  pop_up_in FLOAT,
  elevation_ft FLOAT,
  make VARCHAR NOT NULL,
  model VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_head_job_id ON head (job_id);
CREATE TABLE head_reading (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  visit_id VARCHAR,
  measurement_id VARCHAR,
  run_id VARCHAR,
  psi FLOAT,
  gauge_at VARCHAR,
  above_ft FLOAT,
  gauge_span_psi FLOAT,
  gauge_grade VARCHAR,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_head_reading_job_id ON head_reading (job_id);
CREATE TABLE inspection (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  kind VARCHAR,
  number VARCHAR NOT NULL,
  held_on VARCHAR,
  inspector VARCHAR NOT NULL,
  result VARCHAR,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_inspection_job_id ON inspection (job_id);
CREATE TABLE isolation_valve (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  location VARCHAR NOT NULL,
  shuts VARCHAR NOT NULL,
  kind VARCHAR,
  found VARCHAR,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_isolation_valve_job_id ON isolation_valve (job_id);
CREATE TABLE job (
  id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  address VARCHAR NOT NULL,
  customer VARCHAR NOT NULL,
  phone VARCHAR NOT NULL,
  email VARCHAR NOT NULL,
  billing_address VARCHAR NOT NULL,
  access VARCHAR NOT NULL,
  off_board BOOLEAN,
  joined_with VARCHAR,
  units VARCHAR NOT NULL,
  PRIMARY KEY (id)
);
CREATE TABLE journal (
  n INTEGER NOT NULL,
  id VARCHAR NOT NULL,
  origin VARCHAR NOT NULL,
  seq INTEGER NOT NULL,
  prev VARCHAR NOT NULL,
  clock INTEGER NOT NULL,
  wall VARCHAR NOT NULL,
  who VARCHAR NOT NULL,
  act VARCHAR NOT NULL,
  kind VARCHAR NOT NULL,
  target VARCHAR NOT NULL,
  what VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  "table" VARCHAR NOT NULL,
  row_id VARCHAR NOT NULL,
  op VARCHAR NOT NULL,
  value VARCHAR NOT NULL,
  parents VARCHAR NOT NULL,
  format INTEGER NOT NULL,
  came VARCHAR NOT NULL,
  PRIMARY KEY (n),
  UNIQUE (id)
);
CREATE INDEX journal_by_job ON journal (job_id);
CREATE INDEX journal_by_origin ON journal (origin, seq);
CREATE INDEX journal_by_row ON journal (row_id);
CREATE TABLE keeping (
  id VARCHAR NOT NULL,
  since VARCHAR NOT NULL,
  PRIMARY KEY (id)
);
CREATE TABLE kept_property (
  job_id VARCHAR NOT NULL,
  how VARCHAR NOT NULL,
  at VARCHAR NOT NULL,
  PRIMARY KEY (job_id)
);
CREATE TABLE laptop (
  id VARCHAR NOT NULL,
  person_id VARCHAR NOT NULL,
  since VARCHAR NOT NULL,
  look VARCHAR NOT NULL,
  language VARCHAR,
  PRIMARY KEY (id),
  FOREIGN KEY(person_id) REFERENCES person (id)
);
CREATE TABLE laptop_key (
  "key" VARCHAR NOT NULL,
  name VARCHAR NOT NULL,
  since VARCHAR NOT NULL,
  seen VARCHAR NOT NULL,
  compared_by VARCHAR,
  compared_at VARCHAR,
  distrusted_by VARCHAR,
  distrusted_at VARCHAR,
  known_upto VARCHAR,
  PRIMARY KEY ("key")
);
CREATE TABLE load_item (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  "key" VARCHAR NOT NULL,
  item VARCHAR NOT NULL,
  needed FLOAT,
  needed_ft FLOAT,
  loaded FLOAT,
  loaded_ft FLOAT,
  used FLOAT,
  used_ft FLOAT,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_load_item_job_id ON load_item (job_id);
CREATE TABLE local_rules (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  rule_set VARCHAR NOT NULL,
  backflow_height_in FLOAT,
  backflow_code VARCHAR NOT NULL,
  mainline_cover_in FLOAT,
  lateral_cover_in FLOAT,
  cover_code VARCHAR NOT NULL,
  rain_sensor_required BOOLEAN,
  rain_sensor_code VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_local_rules_job_id ON local_rules (job_id);
CREATE TABLE locate_ticket (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  number VARCHAR NOT NULL,
  called_on VARCHAR,
  starts_on VARCHAR,
  marked_on VARCHAR,
  private_lines BOOLEAN,
  clear_on VARCHAR,
  expires_on VARCHAR,
  renewed_on VARCHAR,
  dug_from VARCHAR,
  dug_until VARCHAR,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_locate_ticket_job_id ON locate_ticket (job_id);
CREATE TABLE not_here (
  job_id VARCHAR NOT NULL,
  sort_key VARCHAR NOT NULL,
  sought VARCHAR NOT NULL,
  told VARCHAR NOT NULL,
  places VARCHAR NOT NULL,
  runs_out VARCHAR NOT NULL,
  off_board INTEGER NOT NULL,
  changed VARCHAR NOT NULL,
  made_from VARCHAR NOT NULL,
  made_number INTEGER NOT NULL,
  newest INTEGER NOT NULL,
  clocks VARCHAR NOT NULL,
  put_away VARCHAR NOT NULL,
  closed INTEGER,
  PRIMARY KEY (job_id)
);
CREATE TABLE note (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  place VARCHAR,
  text VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_note_job_id ON note (job_id);
CREATE TABLE office_file (
  place_id VARCHAR NOT NULL,
  sha256 VARCHAR NOT NULL,
  PRIMARY KEY (place_id, sha256)
);
CREATE TABLE origin (
  no INTEGER NOT NULL,
  id VARCHAR NOT NULL,
  since VARCHAR NOT NULL,
  seq INTEGER NOT NULL,
  last VARCHAR NOT NULL,
  clock INTEGER NOT NULL,
  token VARCHAR NOT NULL,
  PRIMARY KEY (no),
  UNIQUE (id)
);
CREATE TABLE other_controller (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  name VARCHAR NOT NULL,
  location VARCHAR NOT NULL,
  stations INTEGER,
  powered_by VARCHAR,
  box_id VARCHAR,
  outdoors BOOLEAN,
  outdoor_model BOOLEAN,
  supply_near BOOLEAN,
  make VARCHAR NOT NULL,
  model VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_other_controller_job_id ON other_controller (job_id);
CREATE TABLE outbox (
  id INTEGER NOT NULL,
  job_id VARCHAR NOT NULL,
  "table" VARCHAR NOT NULL,
  row_id VARCHAR NOT NULL,
  op VARCHAR NOT NULL,
  value VARCHAR NOT NULL,
  PRIMARY KEY (id)
);
CREATE TABLE passed_over (
  name VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  PRIMARY KEY (name, job_id)
);
CREATE INDEX ix_passed_over_job_id ON passed_over (job_id);
CREATE TABLE permit (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  kind VARCHAR,
  number VARCHAR NOT NULL,
  issued_on VARCHAR,
  expires_on VARCHAR,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_permit_job_id ON permit (job_id);
CREATE TABLE person (
  id VARCHAR NOT NULL,
  initials VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  PRIMARY KEY (id)
);
CREATE TABLE pipe_run (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  zone_id VARCHAR,
  number INTEGER,
  "after" INTEGER,
  size VARCHAR,
  pipe_class VARCHAR,
  rating_psi FLOAT,
  length_ft FLOAT,
  rise_ft FLOAT,
  fittings_ft FLOAT,
  fittings_k FLOAT,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_pipe_run_job_id ON pipe_run (job_id);
CREATE TABLE pressure_test (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  zone_id VARCHAR,
  cemented_at VARCHAR,
  label_min FLOAT,
  air_deg_f INTEGER,
  humidity_pct INTEGER,
  water_only BOOLEAN,
  began_at VARCHAR,
  start_psi FLOAT,
  ended_at VARCHAR,
  end_psi FLOAT,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_pressure_test_job_id ON pressure_test (job_id);
CREATE TABLE programme (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  name VARCHAR NOT NULL,
  controller_id VARCHAR,
  days VARCHAR NOT NULL,
  starts VARCHAR NOT NULL,
  percent INTEGER,
  percent_by_month VARCHAR NOT NULL,
  cycle_min FLOAT,
  soak_min FLOAT,
  first_day VARCHAR,
  last_day VARCHAR,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_programme_job_id ON programme (job_id);
CREATE TABLE programme_minutes (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  programme_id VARCHAR,
  terminal INTEGER,
  run_min FLOAT,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_programme_minutes_job_id ON programme_minutes (job_id);
CREATE TABLE punch_item (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  what VARCHAR NOT NULL,
  zone_id VARCHAR,
  "where" VARCHAR NOT NULL,
  found_on VARCHAR,
  found_by VARCHAR NOT NULL,
  done_on VARCHAR,
  done_by VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_punch_item_job_id ON punch_item (job_id);
CREATE TABLE put_away_entry (
  id VARCHAR NOT NULL,
  origin VARCHAR NOT NULL,
  seq INTEGER NOT NULL,
  job_id VARCHAR NOT NULL,
  PRIMARY KEY (id)
);
CREATE INDEX ix_put_away_entry_job_id ON put_away_entry (job_id);
CREATE INDEX put_away_by_origin ON put_away_entry (origin, seq);
CREATE TABLE rebate_paper (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  paper VARCHAR NOT NULL,
  due_on VARCHAR,
  in_hand BOOLEAN,
  note VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_rebate_paper_job_id ON rebate_paper (job_id);
CREATE TABLE row_heads (
  row_id VARCHAR NOT NULL,
  "table" VARCHAR NOT NULL,
  heads VARCHAR NOT NULL,
  PRIMARY KEY (row_id, "table")
);
CREATE TABLE rule (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  "key" VARCHAR NOT NULL,
  value VARCHAR NOT NULL,
  source VARCHAR NOT NULL,
  set_name VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_rule_job_id ON rule (job_id);
CREATE TABLE seal (
  no INTEGER NOT NULL,
  id VARCHAR NOT NULL,
  origin VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  upto INTEGER NOT NULL,
  ids BLOB NOT NULL,
  "key" VARCHAR NOT NULL,
  name VARCHAR NOT NULL,
  at VARCHAR NOT NULL,
  signature VARCHAR NOT NULL,
  came VARCHAR NOT NULL,
  wrong VARCHAR NOT NULL,
  PRIMARY KEY (no),
  UNIQUE (id)
);
CREATE INDEX seal_by_job ON seal (job_id, origin);
CREATE INDEX seal_by_key ON seal ("key");
CREATE INDEX seal_by_origin ON seal (origin, upto);
CREATE TABLE season_plan (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  frost_on VARCHAR,
  spring_on VARCHAR,
  way VARCHAR,
  blow_order VARCHAR,
  compressor_cfm FLOAT,
  air_port VARCHAR NOT NULL,
  shut_off VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_season_plan_job_id ON season_plan (job_id);
CREATE TABLE season_work (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  visit_id VARCHAR,
  supply_shut BOOLEAN,
  way VARCHAR,
  breaker_off BOOLEAN,
  air_enters VARCHAR,
  regulator_psi FLOAT,
  compressor_cfm FLOAT,
  air_deg_f INTEGER,
  blow_order VARCHAR,
  eyes_covered BOOLEAN,
  far_open BOOLEAN,
  filled_slowly BOOLEAN,
  meter_still BOOLEAN,
  filters_clean BOOLEAN,
  battery_good BOOLEAN,
  damage VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_season_work_job_id ON season_work (job_id);
CREATE TABLE season_zone (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  visit_id VARCHAR,
  zone_id VARCHAR,
  way VARCHAR,
  emptied BOOLEAN,
  ran_well BOOLEAN,
  done_on VARCHAR,
  done_by VARCHAR NOT NULL,
  note VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_season_zone_job_id ON season_zone (job_id);
CREATE TABLE sensor (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  kind VARCHAR,
  "where" VARCHAR NOT NULL,
  setting VARCHAR NOT NULL,
  tested_on VARCHAR,
  stops BOOLEAN,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_sensor_job_id ON sensor (job_id);
CREATE TABLE sign_off (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  kind VARCHAR NOT NULL,
  zone_id VARCHAR,
  state VARCHAR NOT NULL,
  signed_by VARCHAR NOT NULL,
  signed_at VARCHAR NOT NULL,
  digest VARCHAR NOT NULL,
  covered VARCHAR NOT NULL,
  overridden VARCHAR NOT NULL,
  override_by VARCHAR NOT NULL,
  override_reason VARCHAR NOT NULL,
  supersedes VARCHAR,
  licence VARCHAR NOT NULL,
  countersigns VARCHAR,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_sign_off_job_id ON sign_off (job_id);
CREATE TABLE splice (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  box_id VARCHAR,
  cable_id VARCHAR,
  colour VARCHAR,
  to_cable_id VARCHAR,
  to_colour VARCHAR,
  waterproof BOOLEAN,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_splice_job_id ON splice (job_id);
CREATE TABLE supply (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  static_psi FLOAT,
  behind_regulator BOOLEAN,
  source VARCHAR,
  source_gpm FLOAT,
  static_where VARCHAR NOT NULL,
  meter_size VARCHAR,
  meter_number VARCHAR NOT NULL,
  meter_safe_gpm FLOAT,
  service_class VARCHAR,
  service_size VARCHAR,
  service_length_ft FLOAT,
  elevation_ft FLOAT,
  chemicals BOOLEAN,
  septic BOOLEAN,
  second_source BOOLEAN,
  pump BOOLEAN,
  pump_side VARCHAR,
  friction_law VARCHAR,
  water_deg_f INTEGER,
  pipe_bores VARCHAR,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_supply_job_id ON supply (job_id);
CREATE TABLE taken_in (
  place_id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  PRIMARY KEY (place_id, job_id)
);
CREATE TABLE terminal (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  role VARCHAR NOT NULL,
  number INTEGER,
  zone_id VARCHAR,
  controller_id VARCHAR,
  address INTEGER,
  output INTEGER,
  cable_id VARCHAR,
  colour VARCHAR,
  day_1_ohm FLOAT,
  now_ohm FLOAT,
  ran_zone_id VARCHAR,
  ran_also_id VARCHAR,
  ran_nothing BOOLEAN,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_terminal_job_id ON terminal (job_id);
CREATE TABLE tie (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  thing VARCHAR,
  name VARCHAR NOT NULL,
  box_id VARCHAR,
  run_id VARCHAR,
  point_1_id VARCHAR,
  tape_1_ft FLOAT,
  point_2_id VARCHAR,
  tape_2_ft FLOAT,
  point_3_id VARCHAR,
  tape_3_ft FLOAT,
  side VARCHAR,
  depth_in FLOAT,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_tie_job_id ON tie (job_id);
CREATE TABLE two_wire_path (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  name VARCHAR NOT NULL,
  controller_id VARCHAR,
  colour_1 VARCHAR,
  colour_2 VARCHAR,
  gauge_awg VARCHAR,
  length_ft FLOAT,
  joins_waterproof BOOLEAN,
  loop_open BOOLEAN,
  surge_grounded BOOLEAN,
  ground_rods INTEGER,
  ground_ohm FLOAT,
  output_v FLOAT,
  least_v FLOAT,
  load_a FLOAT,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_two_wire_path_job_id ON two_wire_path (job_id);
CREATE TABLE utility_answer (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  ticket_id VARCHAR,
  utility VARCHAR NOT NULL,
  answer VARCHAR,
  answered_on VARCHAR,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_utility_answer_job_id ON utility_answer (job_id);
CREATE TABLE valve (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  zone_id VARCHAR,
  kind VARCHAR NOT NULL,
  box_id VARCHAR,
  cable_id VARCHAR,
  colour VARCHAR,
  splice_waterproof BOOLEAN,
  splice_kind VARCHAR,
  stripped BOOLEAN,
  no_bare_copper BOOLEAN,
  slack_loop BOOLEAN,
  wire_ft FLOAT,
  coil_kind VARCHAR,
  coil_ohm FLOAT,
  loss_psi FLOAT,
  cv FLOAT,
  regulator_psi FLOAT,
  filter_curve VARCHAR NOT NULL,
  main_run INTEGER,
  make VARCHAR NOT NULL,
  model VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_valve_job_id ON valve (job_id);
CREATE TABLE valve_box (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  name VARCHAR NOT NULL,
  location VARCHAR NOT NULL,
  on_base BOOLEAN,
  lid_at_grade BOOLEAN,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_valve_box_job_id ON valve_box (job_id);
CREATE TABLE visit (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  held_on VARCHAR,
  reason VARCHAR,
  who VARCHAR NOT NULL,
  asked_by VARCHAR NOT NULL,
  found VARCHAR NOT NULL,
  done VARCHAR NOT NULL,
  hours FLOAT,
  next_due VARCHAR,
  next_reason VARCHAR,
  note VARCHAR NOT NULL,
  ended BOOLEAN,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_visit_job_id ON visit (job_id);
CREATE TABLE visit_change (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  visit_id VARCHAR,
  of_table VARCHAR NOT NULL,
  of_row VARCHAR NOT NULL,
  of_column VARCHAR NOT NULL,
  was VARCHAR NOT NULL,
  became VARCHAR NOT NULL,
  thing VARCHAR NOT NULL,
  what VARCHAR,
  "before" VARCHAR NOT NULL,
  "after" VARCHAR NOT NULL,
  why VARCHAR NOT NULL,
  warranty BOOLEAN,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_visit_change_job_id ON visit_change (job_id);
CREATE TABLE visit_step (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  visit_id VARCHAR,
  number INTEGER,
  step VARCHAR NOT NULL,
  done BOOLEAN,
  note VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_visit_step_job_id ON visit_step (job_id);
CREATE TABLE walk_through (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  owner VARCHAR NOT NULL,
  held_at VARCHAR,
  shown_by VARCHAR NOT NULL,
  season_taught BOOLEAN,
  checklist BOOLEAN,
  manual BOOLEAN,
  schedule BOOLEAN,
  parts_list BOOLEAN,
  drawing BOOLEAN,
  refused BOOLEAN,
  refused_at VARCHAR,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_walk_through_job_id ON walk_through (job_id);
CREATE TABLE warranty (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  kind VARCHAR,
  thing VARCHAR NOT NULL,
  serial VARCHAR NOT NULL,
  from_on VARCHAR,
  months INTEGER,
  until_on VARCHAR,
  terms VARCHAR NOT NULL,
  given_by VARCHAR NOT NULL,
  paper VARCHAR NOT NULL,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_warranty_job_id ON warranty (job_id);
CREATE TABLE watering_facts (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  house_number INTEGER,
  no_number BOOLEAN,
  watering_group VARCHAR NOT NULL,
  assigned_days VARCHAR NOT NULL,
  street_side VARCHAR,
  property_kind VARCHAR,
  lot_ft2 FLOAT,
  water VARCHAR,
  time_zone VARCHAR NOT NULL,
  new_part_pct INTEGER,
  new_paper BOOLEAN,
  overlap VARCHAR,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_watering_facts_job_id ON watering_facts (job_id);
CREATE TABLE watering_site (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  latitude_deg FLOAT,
  elevation_ft FLOAT,
  et_source VARCHAR NOT NULL,
  rain_pct INTEGER,
  multiplier VARCHAR,
  landscape_ft2 FLOAT,
  special_ft2 FLOAT,
  allowance VARCHAR,
  rain_allowed BOOLEAN,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_watering_site_job_id ON watering_site (job_id);
CREATE TABLE weather_month (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  month INTEGER,
  et_in FLOAT,
  high_deg_f INTEGER,
  low_deg_f INTEGER,
  rain_in FLOAT,
  humidity_pct INTEGER,
  wind_mph FLOAT,
  sun_h FLOAT,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_weather_month_job_id ON weather_month (job_id);
CREATE TABLE wire_test (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  terminal_id VARCHAR,
  wire VARCHAR NOT NULL,
  "after" VARCHAR NOT NULL,
  ran_zone_id VARCHAR,
  ran_also_id VARCHAR,
  ran_nothing BOOLEAN,
  read_ohm FLOAT,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_wire_test_job_id ON wire_test (job_id);
CREATE TABLE zone (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  number INTEGER,
  name VARCHAR NOT NULL,
  waters VARCHAR NOT NULL,
  soil VARCHAR,
  slope_pct INTEGER,
  sun VARCHAR,
  plants VARCHAR NOT NULL,
  head_kind VARCHAR,
  design_flow_gpm FLOAT,
  needed_psi FLOAT,
  pressure_h FLOAT,
  no_higher BOOLEAN,
  runs_with VARCHAR,
  backflow_id VARCHAR,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_zone_job_id ON zone (job_id);
CREATE TABLE zone_measurement (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  visit_id VARCHAR,
  zone_id VARCHAR,
  measured_on VARCHAR,
  static_psi FLOAT,
  dial VARCHAR,
  dial_start FLOAT,
  dial_stop FLOAT,
  dial_s FLOAT,
  flow_gpm FLOAT,
  read_by VARCHAR,
  flow_off_pct FLOAT,
  dial_read_to FLOAT,
  meter_off_pct FLOAT,
  gauge_span_psi FLOAT,
  gauge_grade VARCHAR,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_zone_measurement_job_id ON zone_measurement (job_id);
CREATE TABLE zone_shown (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  zone_id VARCHAR NOT NULL,
  shown_min FLOAT,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_zone_shown_job_id ON zone_shown (job_id);
CREATE TABLE zone_watering (
  id VARCHAR NOT NULL,
  job_id VARCHAR NOT NULL,
  entered_by VARCHAR NOT NULL,
  entered_at VARCHAR NOT NULL,
  zone_id VARCHAR,
  area_ft2 FLOAT,
  planting VARCHAR,
  plant_factor FLOAT,
  density VARCHAR,
  exposure VARCHAR,
  root_in FLOAT,
  depletion_pct INTEGER,
  cover VARCHAR,
  compact BOOLEAN,
  runoff_min FLOAT,
  new_plants VARCHAR,
  planted_on VARCHAR,
  spacing_ft FLOAT,
  rows_ft FLOAT,
  pattern VARCHAR,
  emitters INTEGER,
  emitter_gph FLOAT,
  plant_count INTEGER,
  PRIMARY KEY (id),
  FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE INDEX ix_zone_watering_job_id ON zone_watering (job_id);
