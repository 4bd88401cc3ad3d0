PRAGMA application_id=1717726001;
PRAGMA user_version=4;
BEGIN TRANSACTION;
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
INSERT INTO "backfill" VALUES('4bb73a9e-10d5-53a6-98c6-657afe12b20e','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00','c540a2cb-632b-5c26-86f5-a6d6b0da1307',8.0,1,1,1,NULL,NULL,'KD','2026-10-19T15:00:00-05:00');
INSERT INTO "backfill" VALUES('e368e990-fc5b-5e09-aa75-ea1ffb7e4fe4','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00','83781a50-b7a8-5639-a6a3-f21676eb309f',8.5,0,1,1,NULL,NULL,'KD','2026-10-19T15:20:00-05:00');
CREATE TABLE backflow_assembly (
	id VARCHAR NOT NULL, 
	job_id VARCHAR NOT NULL, 
	entered_by VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	kind VARCHAR, 
	size VARCHAR, 
	serial VARCHAR NOT NULL, 
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
INSERT INTO "backflow_assembly" VALUES('665af529-1bdf-58e8-b6fe-07000e8ab1b5','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00','by the bay window','SVB','1','E-9004',2.0,NULL,NULL,'',NULL,NULL,NULL,0,NULL);
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
	certified BOOLEAN, 
	why VARCHAR, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
CREATE TABLE cable (
	id VARCHAR NOT NULL, 
	job_id VARCHAR NOT NULL, 
	entered_by VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	gauge_awg VARCHAR, 
	common_colour VARCHAR, 
	common_waterproof BOOLEAN, 
	fed_from VARCHAR, 
	common_with VARCHAR, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "cable" VALUES('351d357f-af3e-53d3-a3c5-9c292df12034','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00','1','18','white',1,NULL,NULL);
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
INSERT INTO "conductor" VALUES('ad90fb35-b53a-5ade-87cc-b8bfc42bc4de','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00','351d357f-af3e-53d3-a3c5-9c292df12034',1,'white',NULL);
INSERT INTO "conductor" VALUES('1fafc7ea-bd4e-5f2c-9227-cc8d5942ef55','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00','351d357f-af3e-53d3-a3c5-9c292df12034',2,'red',NULL);
INSERT INTO "conductor" VALUES('5035ce0b-aef6-5b32-a703-0bd9df08aa3d','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00','351d357f-af3e-53d3-a3c5-9c292df12034',3,'blue',NULL);
INSERT INTO "conductor" VALUES('d5514c47-b022-5cbf-b4f1-a7f64dd2e53b','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00','351d357f-af3e-53d3-a3c5-9c292df12034',4,'green',NULL);
CREATE TABLE controller (
	id VARCHAR NOT NULL, 
	job_id VARCHAR NOT NULL, 
	entered_by VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	location VARCHAR NOT NULL, 
	stations INTEGER, 
	outdoors BOOLEAN, 
	outdoor_model BOOLEAN, 
	supply_near BOOLEAN, 
	wire_in_conduit BOOLEAN, 
	rain_sensor BOOLEAN, 
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
INSERT INTO "controller" VALUES('d2c9fbfd-9a2e-5b8d-8ff5-671556a21b0a','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00','post by the boathouse',4,1,0,1,1,1,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
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
CREATE TABLE entry (
	id VARCHAR NOT NULL, 
	group_id VARCHAR NOT NULL, 
	kind VARCHAR NOT NULL, 
	target VARCHAR NOT NULL, 
	what VARCHAR NOT NULL, 
	job_id VARCHAR NOT NULL, 
	"by" VARCHAR NOT NULL, 
	at VARCHAR NOT NULL, 
	"table" VARCHAR NOT NULL, 
	row_id VARCHAR NOT NULL, 
	"column" VARCHAR NOT NULL, 
	old VARCHAR NOT NULL, 
	new VARCHAR NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "entry" VALUES('01a2150f-972f-748b-9255-6514a7756c82','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','job','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "address": "5 Harbor View", "customer": "N. Petrosyan", "phone": "555-0108", "access": "key under the third pot", "units": "us", "id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3"}');
INSERT INTO "entry" VALUES('01a2150f-9730-7e01-a69a-a20dd77b37d3','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','supply','70dd3dc3-a9f9-55e4-8063-916daa975abb','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "static_psi": 55.0, "static_where": "hose tap, street side, 6 in the morning", "meter_size": "3/4", "service_class": "copper L", "service_size": "1", "service_length_ft": 30.0, "id": "70dd3dc3-a9f9-55e4-8063-916daa975abb", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3"}');
INSERT INTO "entry" VALUES('01a2150f-9731-7c13-a72e-c01174e7a36a','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','backflow_assembly','665af529-1bdf-58e8-b6fe-07000e8ab1b5','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "name": "by the bay window", "kind": "SVB", "size": "1", "serial": "E-9004", "critical_level_ft": 2.0, "exposed_pvc": false, "id": "665af529-1bdf-58e8-b6fe-07000e8ab1b5", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3", "loss_curve": ""}');
INSERT INTO "entry" VALUES('01a2150f-9732-78e0-bfa9-7c36a20f38db','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','zone','c540a2cb-632b-5c26-86f5-a6d6b0da1307','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "number": 1, "name": "sea side", "waters": "lawn", "head_kind": "rotor", "design_flow_gpm": 9.0, "id": "c540a2cb-632b-5c26-86f5-a6d6b0da1307", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3"}');
INSERT INTO "entry" VALUES('01a2150f-9733-716f-991c-0574c5f133b5','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','zone','83781a50-b7a8-5639-a6a3-f21676eb309f','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "number": 2, "name": "lee side", "waters": "lawn", "head_kind": "spray", "design_flow_gpm": 7.5, "id": "83781a50-b7a8-5639-a6a3-f21676eb309f", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3"}');
INSERT INTO "entry" VALUES('01a2150f-9734-76f4-a444-56972961d7af','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','valve_box','2c14362e-005f-5bc6-8de3-d926623e2555','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "name": "A", "location": "2 ft from the flagstones, 11 ft from the lamp", "on_base": true, "id": "2c14362e-005f-5bc6-8de3-d926623e2555", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3"}');
INSERT INTO "entry" VALUES('01a2150f-9735-75be-8a87-535b555f4490','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','cable','351d357f-af3e-53d3-a3c5-9c292df12034','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "name": "1", "gauge_awg": "18", "common_colour": "white", "common_waterproof": true, "id": "351d357f-af3e-53d3-a3c5-9c292df12034", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3"}');
INSERT INTO "entry" VALUES('01a2150f-9736-7c40-a7a1-ae20d8b43c79','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','conductor','ad90fb35-b53a-5ade-87cc-b8bfc42bc4de','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "cable_id": "351d357f-af3e-53d3-a3c5-9c292df12034", "position": 1, "colour": "white", "id": "ad90fb35-b53a-5ade-87cc-b8bfc42bc4de", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3"}');
INSERT INTO "entry" VALUES('01a2150f-9737-7d68-a291-969e195ef11b','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','conductor','1fafc7ea-bd4e-5f2c-9227-cc8d5942ef55','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "cable_id": "351d357f-af3e-53d3-a3c5-9c292df12034", "position": 2, "colour": "red", "id": "1fafc7ea-bd4e-5f2c-9227-cc8d5942ef55", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3"}');
INSERT INTO "entry" VALUES('01a2150f-9738-7616-871a-8f62fa879597','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','conductor','5035ce0b-aef6-5b32-a703-0bd9df08aa3d','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "cable_id": "351d357f-af3e-53d3-a3c5-9c292df12034", "position": 3, "colour": "blue", "id": "5035ce0b-aef6-5b32-a703-0bd9df08aa3d", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3"}');
INSERT INTO "entry" VALUES('01a2150f-9739-7fe3-ae50-ff5e1a8323c4','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','conductor','d5514c47-b022-5cbf-b4f1-a7f64dd2e53b','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "cable_id": "351d357f-af3e-53d3-a3c5-9c292df12034", "position": 4, "colour": "green", "id": "d5514c47-b022-5cbf-b4f1-a7f64dd2e53b", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3"}');
INSERT INTO "entry" VALUES('01a2150f-973a-779b-821a-1bdeb1b3d98b','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','valve','941c9e8f-4460-5186-acf7-80ebe9d3ac96','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "kind": "zone", "zone_id": "c540a2cb-632b-5c26-86f5-a6d6b0da1307", "box_id": "2c14362e-005f-5bc6-8de3-d926623e2555", "cable_id": "351d357f-af3e-53d3-a3c5-9c292df12034", "colour": "red", "splice_waterproof": true, "coil_ohm": 28.3, "id": "941c9e8f-4460-5186-acf7-80ebe9d3ac96", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3", "filter_curve": ""}');
INSERT INTO "entry" VALUES('01a2150f-973b-731b-a1fc-3ed864910783','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','valve','605c9920-37ac-5263-a594-daf88803bf64','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "kind": "zone", "zone_id": "83781a50-b7a8-5639-a6a3-f21676eb309f", "box_id": "2c14362e-005f-5bc6-8de3-d926623e2555", "cable_id": "351d357f-af3e-53d3-a3c5-9c292df12034", "colour": "blue", "splice_waterproof": true, "coil_ohm": 28.6, "id": "605c9920-37ac-5263-a594-daf88803bf64", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3", "filter_curve": ""}');
INSERT INTO "entry" VALUES('01a2150f-973c-7f81-83bf-5950c1adc3dc','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','controller','d2c9fbfd-9a2e-5b8d-8ff5-671556a21b0a','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "location": "post by the boathouse", "stations": 4, "outdoors": true, "outdoor_model": false, "supply_near": true, "wire_in_conduit": true, "rain_sensor": true, "id": "d2c9fbfd-9a2e-5b8d-8ff5-671556a21b0a", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3"}');
INSERT INTO "entry" VALUES('01a2150f-973d-7a8d-a852-946b973ca786','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','flush','92c449ca-96ce-54d9-9ce7-cd83ac506f94','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "zone_id": "c540a2cb-632b-5c26-86f5-a6d6b0da1307", "main_valve_on": true, "tops_off": true, "bleed_open": true, "ran_clear": true, "bleed_closed": true, "tops_back": true, "id": "92c449ca-96ce-54d9-9ce7-cd83ac506f94", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3", "discharged": ""}');
INSERT INTO "entry" VALUES('01a2150f-973e-7fb4-92f3-78f08984d037','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','backfill','4bb73a9e-10d5-53a6-98c6-657afe12b20e','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "zone_id": "c540a2cb-632b-5c26-86f5-a6d6b0da1307", "cover_in": 8.0, "rock_free": true, "heads_plumb": true, "heads_at_grade": true, "signed_by": "KD", "signed_at": "2026-10-19T15:00:00-05:00", "id": "4bb73a9e-10d5-53a6-98c6-657afe12b20e", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3"}');
INSERT INTO "entry" VALUES('01a2150f-973f-787d-91f9-d5558c7ff9df','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','backfill','e368e990-fc5b-5e09-aa75-ea1ffb7e4fe4','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "zone_id": "83781a50-b7a8-5639-a6a3-f21676eb309f", "cover_in": 8.5, "rock_free": false, "heads_plumb": true, "heads_at_grade": true, "signed_by": "KD", "signed_at": "2026-10-19T15:20:00-05:00", "id": "e368e990-fc5b-5e09-aa75-ea1ffb7e4fe4", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3"}');
INSERT INTO "entry" VALUES('01a2150f-9740-7595-afa4-4cb72d9175d3','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','permit','efd1690d-f89d-591c-ac05-8098cd8adfea','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "kind": "irrigation", "number": "IR-26-376", "issued_on": "2026-10-13", "id": "efd1690d-f89d-591c-ac05-8098cd8adfea", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3"}');
INSERT INTO "entry" VALUES('01a2150f-9741-7666-9305-d0138fd0b054','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','locate_ticket','d35463fb-d8e9-578d-9158-b19575c74e65','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "number": "2618232", "called_on": "2026-10-13", "clear_on": "2026-10-16", "expires_on": "2026-10-30", "dug_from": "2026-10-16", "dug_until": "2026-10-19", "id": "d35463fb-d8e9-578d-9158-b19575c74e65", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3"}');
INSERT INTO "entry" VALUES('01a2150f-9742-7859-b282-3051d7d9699a','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','sign_off','604963a2-24f9-51ee-bc04-e843531b2ffe','','null','{"entered_by": "KD", "entered_at": "2026-10-19T15:00:00-05:00", "zone_id": "c540a2cb-632b-5c26-86f5-a6d6b0da1307", "kind": "backfill", "state": "signed", "signed_by": "KD", "signed_at": "2026-10-19T15:00:00-05:00", "digest": "ab484d2ab18563116465e265faa22b3b994b4153ac9065f1a8b6669043e2a78e", "covered": "{\"backfill\": \"a8c28a9d85365c98003dd5734a255284eb8b0f000503de543d33572bf6de4a3d\", \"flush\": \"86d19d0b0e2fe659d3ce81e5bec8e00c5c23ed9138a18dc96d8efb8f468e3ef1\", \"head\": \"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855\", \"pipe_run\": \"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855\", \"pressure_test\": \"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855\"}", "id": "604963a2-24f9-51ee-bc04-e843531b2ffe", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3", "overridden": "", "override_by": "", "override_reason": ""}');
INSERT INTO "entry" VALUES('01a2150f-9743-7d51-88c2-469a58091b1b','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','sign_off','5d8b2c71-cfea-5002-aa64-3c2a1fbc90da','','null','{"entered_by": "KD", "entered_at": "2026-10-19T15:20:00-05:00", "zone_id": "83781a50-b7a8-5639-a6a3-f21676eb309f", "kind": "backfill", "state": "signed", "signed_by": "KD", "signed_at": "2026-10-19T15:20:00-05:00", "overridden": "hold 7, missing the flush of zone 2 (lee side); hold 8, missing that the soil at zone 2 (lee side) is free of rock", "override_by": "K. Dahl", "override_reason": "sod was delivered, flush promised for the next morning", "digest": "536f60f25d7e4072b3a20cc3492af4fcf27779dde814eeee9800e024a91ad723", "covered": "{\"backfill\": \"658bc2f5f501e6539bf92f844bcc476616f74595678bc30c7b56656d4bc4cd00\", \"flush\": \"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855\", \"head\": \"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855\", \"pipe_run\": \"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855\", \"pressure_test\": \"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855\"}", "id": "5d8b2c71-cfea-5002-aa64-3c2a1fbc90da", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3"}');
INSERT INTO "entry" VALUES('01a2150f-9744-71b2-869b-3c5d94987cf1','01a2150f-972e-7ac8-a517-2b920f794e23','do','','property 5 Harbor View imported','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','AB','2026-11-25T23:34:33+00:00','note','83edc8f0-727b-56f1-b14d-cb195f114c19','','null','{"entered_by": "KD", "entered_at": "2026-10-19T17:20:00-05:00", "place": "ground", "text": "Wrong here: zone 2 was signed for backfill before its flush, over stony soil; and the controller hangs outdoors but is not made for it.", "id": "83edc8f0-727b-56f1-b14d-cb195f114c19", "job_id": "72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3"}');
CREATE TABLE fixed_point (
	id VARCHAR NOT NULL, 
	job_id VARCHAR NOT NULL, 
	entered_by VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	east_ft FLOAT, 
	north_ft FLOAT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
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
CREATE TABLE flush (
	id VARCHAR NOT NULL, 
	job_id VARCHAR NOT NULL, 
	entered_by VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	zone_id VARCHAR, 
	main_valve_on BOOLEAN, 
	tops_off BOOLEAN, 
	bleed_open BOOLEAN, 
	ran_clear BOOLEAN, 
	bleed_closed BOOLEAN, 
	tops_back BOOLEAN, 
	clear_min FLOAT, 
	discharged VARCHAR NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "flush" VALUES('92c449ca-96ce-54d9-9ce7-cd83ac506f94','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00','c540a2cb-632b-5c26-86f5-a6d6b0da1307',1,1,1,1,1,1,NULL,'');
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
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
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
CREATE TABLE job (
	id VARCHAR NOT NULL, 
	entered_by VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	address VARCHAR NOT NULL, 
	customer VARCHAR NOT NULL, 
	phone VARCHAR NOT NULL, 
	access VARCHAR NOT NULL, 
	off_board BOOLEAN, 
	units VARCHAR NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "job" VALUES('72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00','5 Harbor View','N. Petrosyan','555-0108','key under the third pot',NULL,'us');
CREATE TABLE laptop (
	id VARCHAR NOT NULL, 
	person_id VARCHAR NOT NULL, 
	since VARCHAR NOT NULL, 
	look VARCHAR NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(person_id) REFERENCES person (id)
);
INSERT INTO "laptop" VALUES('01a2150f-9727-77bc-9edc-01e6593aaaa0','01a2150f-970f-7b77-837d-ff93915a17ec','2026-11-25T23:34:32+00:00','');
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
CREATE TABLE locate_ticket (
	id VARCHAR NOT NULL, 
	job_id VARCHAR NOT NULL, 
	entered_by VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	number VARCHAR NOT NULL, 
	called_on VARCHAR, 
	clear_on VARCHAR, 
	expires_on VARCHAR, 
	renewed_on VARCHAR, 
	dug_from VARCHAR, 
	dug_until VARCHAR, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "locate_ticket" VALUES('d35463fb-d8e9-578d-9158-b19575c74e65','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00','2618232','2026-10-13','2026-10-16','2026-10-30',NULL,'2026-10-16','2026-10-19');
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
INSERT INTO "note" VALUES('83edc8f0-727b-56f1-b14d-cb195f114c19','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00','ground','Wrong here: zone 2 was signed for backfill before its flush, over stony soil; and the controller hangs outdoors but is not made for it.');
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
INSERT INTO "permit" VALUES('efd1690d-f89d-591c-ac05-8098cd8adfea','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00','irrigation','IR-26-376','2026-10-13',NULL);
CREATE TABLE person (
	id VARCHAR NOT NULL, 
	initials VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "person" VALUES('01a2150f-970f-7b77-837d-ff93915a17ec','AB','2026-11-25T23:34:32+00:00');
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
	length_ft FLOAT, 
	rise_ft FLOAT, 
	fittings_ft FLOAT, 
	fittings_k FLOAT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
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
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "sign_off" VALUES('604963a2-24f9-51ee-bc04-e843531b2ffe','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T15:00:00-05:00','backfill','c540a2cb-632b-5c26-86f5-a6d6b0da1307','signed','KD','2026-10-19T15:00:00-05:00','ab484d2ab18563116465e265faa22b3b994b4153ac9065f1a8b6669043e2a78e','{"backfill": "a8c28a9d85365c98003dd5734a255284eb8b0f000503de543d33572bf6de4a3d", "flush": "86d19d0b0e2fe659d3ce81e5bec8e00c5c23ed9138a18dc96d8efb8f468e3ef1", "head": "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", "pipe_run": "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", "pressure_test": "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"}','','','',NULL);
INSERT INTO "sign_off" VALUES('5d8b2c71-cfea-5002-aa64-3c2a1fbc90da','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T15:20:00-05:00','backfill','83781a50-b7a8-5639-a6a3-f21676eb309f','signed','KD','2026-10-19T15:20:00-05:00','536f60f25d7e4072b3a20cc3492af4fcf27779dde814eeee9800e024a91ad723','{"backfill": "658bc2f5f501e6539bf92f844bcc476616f74595678bc30c7b56656d4bc4cd00", "flush": "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", "head": "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", "pipe_run": "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855", "pressure_test": "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"}','hold 7, missing the flush of zone 2 (lee side); hold 8, missing that the soil at zone 2 (lee side) is free of rock','K. Dahl','sod was delivered, flush promised for the next morning',NULL);
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
CREATE TABLE supply (
	id VARCHAR NOT NULL, 
	job_id VARCHAR NOT NULL, 
	entered_by VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	static_psi FLOAT, 
	static_where VARCHAR NOT NULL, 
	meter_size VARCHAR, 
	meter_safe_gpm FLOAT, 
	service_class VARCHAR, 
	service_size VARCHAR, 
	service_length_ft FLOAT, 
	elevation_ft FLOAT, 
	chemicals BOOLEAN, 
	septic BOOLEAN, 
	second_source BOOLEAN, 
	pump BOOLEAN, 
	friction_law VARCHAR, 
	water_deg_f INTEGER, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "supply" VALUES('70dd3dc3-a9f9-55e4-8063-916daa975abb','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00',55.0,'hose tap, street side, 6 in the morning','3/4',NULL,'copper L','1',30.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
CREATE TABLE terminal (
	id VARCHAR NOT NULL, 
	job_id VARCHAR NOT NULL, 
	entered_by VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	role VARCHAR NOT NULL, 
	number INTEGER, 
	zone_id VARCHAR, 
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
CREATE TABLE tie (
	id VARCHAR NOT NULL, 
	job_id VARCHAR NOT NULL, 
	entered_by VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	thing VARCHAR, 
	name VARCHAR NOT NULL, 
	box_id VARCHAR, 
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
	coil_ohm FLOAT, 
	loss_psi FLOAT, 
	cv FLOAT, 
	regulator_psi FLOAT, 
	filter_curve VARCHAR NOT NULL, 
	main_run INTEGER, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "valve" VALUES('941c9e8f-4460-5186-acf7-80ebe9d3ac96','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00','c540a2cb-632b-5c26-86f5-a6d6b0da1307','zone','2c14362e-005f-5bc6-8de3-d926623e2555','351d357f-af3e-53d3-a3c5-9c292df12034','red',1,NULL,NULL,NULL,NULL,NULL,28.3,NULL,NULL,NULL,'',NULL);
INSERT INTO "valve" VALUES('605c9920-37ac-5263-a594-daf88803bf64','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00','83781a50-b7a8-5639-a6a3-f21676eb309f','zone','2c14362e-005f-5bc6-8de3-d926623e2555','351d357f-af3e-53d3-a3c5-9c292df12034','blue',1,NULL,NULL,NULL,NULL,NULL,28.6,NULL,NULL,NULL,'',NULL);
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
INSERT INTO "valve_box" VALUES('2c14362e-005f-5bc6-8de3-d926623e2555','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00','A','2 ft from the flagstones, 11 ft from the lamp',1,NULL);
CREATE TABLE zone (
	id VARCHAR NOT NULL, 
	job_id VARCHAR NOT NULL, 
	entered_by VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	number INTEGER, 
	name VARCHAR NOT NULL, 
	waters VARCHAR NOT NULL, 
	head_kind VARCHAR, 
	design_flow_gpm FLOAT, 
	needed_psi FLOAT, 
	pressure_h FLOAT, 
	runs_with VARCHAR, 
	backflow_id VARCHAR, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "zone" VALUES('c540a2cb-632b-5c26-86f5-a6d6b0da1307','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00',1,'sea side','lawn','rotor',9.0,NULL,NULL,NULL,NULL);
INSERT INTO "zone" VALUES('83781a50-b7a8-5639-a6a3-f21676eb309f','72b5b5e9-5fdd-5b55-9b3c-a1834a256ea3','KD','2026-10-19T17:20:00-05:00',2,'lee side','lawn','spray',7.5,NULL,NULL,NULL,NULL);
CREATE INDEX ix_entry_row_id ON entry (row_id);
CREATE INDEX ix_entry_group_id ON entry (group_id);
CREATE INDEX ix_entry_job_id ON entry (job_id);
CREATE INDEX ix_note_job_id ON note (job_id);
CREATE INDEX ix_attachment_job_id ON attachment (job_id);
CREATE INDEX ix_backflow_assembly_job_id ON backflow_assembly (job_id);
CREATE INDEX ix_controller_job_id ON controller (job_id);
CREATE INDEX ix_terminal_job_id ON terminal (job_id);
CREATE INDEX ix_pressure_test_job_id ON pressure_test (job_id);
CREATE INDEX ix_backflow_test_job_id ON backflow_test (job_id);
CREATE INDEX ix_local_rules_job_id ON local_rules (job_id);
CREATE INDEX ix_permit_job_id ON permit (job_id);
CREATE INDEX ix_inspection_job_id ON inspection (job_id);
CREATE INDEX ix_locate_ticket_job_id ON locate_ticket (job_id);
CREATE INDEX ix_crew_member_job_id ON crew_member (job_id);
CREATE INDEX ix_pipe_run_job_id ON pipe_run (job_id);
CREATE INDEX ix_flush_job_id ON flush (job_id);
CREATE INDEX ix_backfill_job_id ON backfill (job_id);
CREATE INDEX ix_rule_job_id ON rule (job_id);
CREATE INDEX ix_sign_off_job_id ON sign_off (job_id);
CREATE INDEX ix_supply_job_id ON supply (job_id);
CREATE INDEX ix_flow_test_point_job_id ON flow_test_point (job_id);
CREATE INDEX ix_fixed_point_job_id ON fixed_point (job_id);
CREATE INDEX ix_tie_job_id ON tie (job_id);
CREATE INDEX ix_valve_box_job_id ON valve_box (job_id);
CREATE INDEX ix_cable_job_id ON cable (job_id);
CREATE INDEX ix_conductor_job_id ON conductor (job_id);
CREATE INDEX ix_splice_job_id ON splice (job_id);
CREATE INDEX ix_valve_job_id ON valve (job_id);
CREATE INDEX ix_zone_job_id ON zone (job_id);
CREATE INDEX ix_head_job_id ON head (job_id);
CREATE TRIGGER sign_off_no_update BEFORE UPDATE ON sign_off BEGIN SELECT RAISE(ABORT, 'a sign-off stays as it was signed'); END;
CREATE TRIGGER sign_off_no_delete BEFORE DELETE ON sign_off BEGIN SELECT RAISE(ABORT, 'a sign-off stays as it was signed'); END;
COMMIT;
