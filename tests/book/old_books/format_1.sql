PRAGMA application_id=1717726001;
PRAGMA user_version=1;
BEGIN TRANSACTION;
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
	signed_by VARCHAR NOT NULL, 
	signed_at VARCHAR NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
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
	exposed_pvc BOOLEAN, 
	pvc_painted BOOLEAN, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "backflow_assembly" VALUES('1d95b749-d47b-5b0c-b8b5-ffb306b3345e','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','beside the terrace','PVB','1','D-3307',1.80446194225721789905e+00,NULL,NULL,0,NULL);
CREATE TABLE cable (
	id VARCHAR NOT NULL, 
	job_id VARCHAR NOT NULL, 
	entered_by VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	gauge_awg VARCHAR, 
	common_colour VARCHAR, 
	common_waterproof BOOLEAN, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "cable" VALUES('f4f31183-2734-534c-b9e2-41723c2ea195','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','1','18','white',1);
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
INSERT INTO "conductor" VALUES('e9533b5d-de4e-528e-b3c5-08eac861f416','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','f4f31183-2734-534c-b9e2-41723c2ea195',1,'white',NULL);
INSERT INTO "conductor" VALUES('09164321-3a76-5832-a5ec-5210b9d71c47','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','f4f31183-2734-534c-b9e2-41723c2ea195',2,'brown',NULL);
INSERT INTO "conductor" VALUES('cf8d8933-f914-5288-9d64-aa333a25d56b','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','f4f31183-2734-534c-b9e2-41723c2ea195',3,'gray',NULL);
INSERT INTO "conductor" VALUES('4ef0bdba-1ae9-591c-89dc-93895595bdb9','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','f4f31183-2734-534c-b9e2-41723c2ea195',4,'violet',NULL);
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
INSERT INTO "entry" VALUES('01a214c5-ebc2-7432-afab-b0abbcb383c9','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','job','03ec1016-2c8a-5198-b9fd-ff744199738b','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "address": "7 Birch Terrace", "customer": "A. Haverkamp", "phone": "555-0163", "access": "ring twice", "units": "metric", "id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebc3-7423-859d-e6947b9ab559','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','supply','faa50887-c7e0-54e9-a8d0-83fa1630f60c','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "static_psi": 62.366227223989966, "static_where": "garden tap, 6 in the morning", "meter_size": "1", "service_class": "copper L", "service_size": "1-1/4", "service_length_ft": 59.055118110236215, "elevation_ft": 0.0, "id": "faa50887-c7e0-54e9-a8d0-83fa1630f60c", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebc4-7d1a-8881-b92ed90cd8fc','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','flow_test_point','9268176b-a180-5c77-975a-b1c4172e0504','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "residual_psi": 49.31283082827114, "bucket_gal": 5.2834410471629685, "bucket_s": 24.0, "id": "9268176b-a180-5c77-975a-b1c4172e0504", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebc5-791a-ade3-a194843f593f','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','backflow_assembly','1d95b749-d47b-5b0c-b8b5-ffb306b3345e','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "name": "beside the terrace", "kind": "PVB", "size": "1", "serial": "D-3307", "critical_level_ft": 1.804461942257218, "exposed_pvc": false, "id": "1d95b749-d47b-5b0c-b8b5-ffb306b3345e", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebc6-76c5-95ed-ec48bf6beff1','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','zone','40b8a87d-06b9-5afb-92c1-4448c7cd74c4','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "number": 1, "name": "lower lawn", "waters": "lawn", "head_kind": "spray", "id": "40b8a87d-06b9-5afb-92c1-4448c7cd74c4", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebc7-7e5f-8fdf-7b9785ed96c2','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','zone','ce9794ee-c005-5ed1-b0c7-c4b987657946','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "number": 2, "name": "bank", "waters": "lawn", "head_kind": "spray", "id": "ce9794ee-c005-5ed1-b0c7-c4b987657946", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebc8-730d-b28e-73727ab34e43','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','pipe_run','49f61c8c-5913-5d46-9c60-f741ab304082','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "number": 1, "size": "1-1/4", "pipe_class": "pvc sch 40", "length_ft": 45.93175853018372, "id": "49f61c8c-5913-5d46-9c60-f741ab304082", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebc9-793a-aa5a-0000bb58aa0e','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','pipe_run','c988bba4-a2ef-5652-af0f-76288e7886e9','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "zone_id": "40b8a87d-06b9-5afb-92c1-4448c7cd74c4", "number": 1, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 11.811023622047243, "id": "c988bba4-a2ef-5652-af0f-76288e7886e9", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebca-77bb-8d5c-1ee01a32d56c','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','pipe_run','53bd99a0-7e74-5e0d-bde8-f126c3f5e1c3','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "zone_id": "40b8a87d-06b9-5afb-92c1-4448c7cd74c4", "number": 2, "after": 1, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 11.811023622047243, "id": "53bd99a0-7e74-5e0d-bde8-f126c3f5e1c3", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebcb-7b5e-b681-2027a0d726c2','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','pipe_run','0b82a8a4-fc20-51a0-8597-e2a8701ec711','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "zone_id": "40b8a87d-06b9-5afb-92c1-4448c7cd74c4", "number": 3, "after": 2, "size": "3/4", "pipe_class": "pvc sdr 21", "length_ft": 11.811023622047243, "id": "0b82a8a4-fc20-51a0-8597-e2a8701ec711", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebcc-7b09-a87d-9d6c9a9d6311','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','pipe_run','fde64e74-77f3-56b8-b998-3084962cc2e7','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "zone_id": "40b8a87d-06b9-5afb-92c1-4448c7cd74c4", "number": 4, "after": 3, "size": "3/4", "pipe_class": "pvc sdr 21", "length_ft": 11.811023622047243, "id": "fde64e74-77f3-56b8-b998-3084962cc2e7", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebcd-73d4-a668-9651a0890ffa','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','pipe_run','89778cc9-eb98-56ca-8f91-2bbb4e4176fc','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "zone_id": "ce9794ee-c005-5ed1-b0c7-c4b987657946", "number": 1, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 11.811023622047243, "id": "89778cc9-eb98-56ca-8f91-2bbb4e4176fc", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebce-7b1d-be78-fe8967de5836','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','pipe_run','18755ecb-0617-53dd-ae35-3d8194907641','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "zone_id": "ce9794ee-c005-5ed1-b0c7-c4b987657946", "number": 2, "after": 1, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 11.811023622047243, "rise_ft": 1.3123359580052494, "id": "18755ecb-0617-53dd-ae35-3d8194907641", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebcf-7142-a7a8-5d1b31199f41','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','pipe_run','59679783-da1d-5866-82c9-8eb334c51b9f','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "zone_id": "ce9794ee-c005-5ed1-b0c7-c4b987657946", "number": 3, "after": 2, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 11.811023622047243, "id": "59679783-da1d-5866-82c9-8eb334c51b9f", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebd0-7b59-bcbc-fc32ed2c1dc1','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','pipe_run','fa14efce-dc2d-54b2-a197-482ef9f247f8','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "zone_id": "ce9794ee-c005-5ed1-b0c7-c4b987657946", "number": 4, "after": 3, "size": "3/4", "pipe_class": "pvc sdr 21", "length_ft": 11.811023622047243, "id": "fa14efce-dc2d-54b2-a197-482ef9f247f8", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebd1-7634-b406-bb2831c9ffe7','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','pipe_run','b2ffbb20-81a1-5a6c-897d-e433e1bd9627','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "zone_id": "ce9794ee-c005-5ed1-b0c7-c4b987657946", "number": 5, "after": 4, "size": "3/4", "pipe_class": "pvc sdr 21", "length_ft": 11.811023622047243, "id": "b2ffbb20-81a1-5a6c-897d-e433e1bd9627", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebd2-76df-9eaf-71bfae63dc8a','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','head','7d68c5e2-4ddd-5407-8ea7-4c9647acccd7','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "run_id": "c988bba4-a2ef-5652-af0f-76288e7886e9", "kind": "spray", "nozzle_gpm": 1.3208602617907421, "rated_psi": 30.45792492334394, "min_psi": 20.30528328222929, "max_psi": 44.96169869636486, "arc_deg": 90.0, "radius_ft": 11.811023622047243, "id": "7d68c5e2-4ddd-5407-8ea7-4c9647acccd7", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebd3-7f8d-bbc1-89ca870bf600','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','head','d453472f-965d-5dcf-8747-cb4069baf402','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "run_id": "53bd99a0-7e74-5e0d-bde8-f126c3f5e1c3", "kind": "spray", "nozzle_gpm": 1.8492043665070392, "rated_psi": 30.45792492334394, "min_psi": 20.30528328222929, "max_psi": 44.96169869636486, "arc_deg": 180.0, "radius_ft": 11.811023622047243, "id": "d453472f-965d-5dcf-8747-cb4069baf402", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebd4-7f42-8e13-da0bbaaad3e8','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','head','24d674e9-2c8a-5205-82a3-d43cdb678058','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "run_id": "0b82a8a4-fc20-51a0-8597-e2a8701ec711", "kind": "spray", "nozzle_gpm": 1.8492043665070392, "rated_psi": 30.45792492334394, "min_psi": 20.30528328222929, "max_psi": 44.96169869636486, "arc_deg": 180.0, "radius_ft": 11.811023622047243, "id": "24d674e9-2c8a-5205-82a3-d43cdb678058", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebd5-72b5-b81f-eb0840d9a30e','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','head','8882a766-6909-50ca-9afb-98a81e66648d','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "run_id": "fde64e74-77f3-56b8-b998-3084962cc2e7", "kind": "spray", "nozzle_gpm": 1.8492043665070392, "rated_psi": 30.45792492334394, "min_psi": 20.30528328222929, "max_psi": 44.96169869636486, "arc_deg": 180.0, "radius_ft": 11.811023622047243, "id": "8882a766-6909-50ca-9afb-98a81e66648d", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebd6-715b-a91f-12a27c2ac055','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','head','3b369422-df7d-5b3a-a7ba-c05ba69e3a5f','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "run_id": "89778cc9-eb98-56ca-8f91-2bbb4e4176fc", "kind": "spray", "nozzle_gpm": 1.8492043665070392, "rated_psi": 30.45792492334394, "min_psi": 20.30528328222929, "max_psi": 44.96169869636486, "arc_deg": 180.0, "radius_ft": 11.811023622047243, "id": "3b369422-df7d-5b3a-a7ba-c05ba69e3a5f", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebd7-73aa-a1ba-c604822e523b','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','head','4b6f9134-2d87-502f-9b9c-f1e71b4bf7bf','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "run_id": "18755ecb-0617-53dd-ae35-3d8194907641", "kind": "spray", "nozzle_gpm": 1.8492043665070392, "rated_psi": 30.45792492334394, "min_psi": 20.30528328222929, "max_psi": 44.96169869636486, "arc_deg": 180.0, "radius_ft": 11.811023622047243, "id": "4b6f9134-2d87-502f-9b9c-f1e71b4bf7bf", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebd8-7ba3-bb8b-ee302d8bb31f','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','head','52db1107-721d-515d-a9c1-63822ef6955d','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "run_id": "59679783-da1d-5866-82c9-8eb334c51b9f", "kind": "spray", "nozzle_gpm": 1.8492043665070392, "rated_psi": 30.45792492334394, "min_psi": 20.30528328222929, "max_psi": 44.96169869636486, "arc_deg": 180.0, "radius_ft": 11.811023622047243, "id": "52db1107-721d-515d-a9c1-63822ef6955d", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebd9-7a2b-a3f3-b49c18f2bddf','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','head','91490b11-34e3-54c9-be83-795b2883293c','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "run_id": "fa14efce-dc2d-54b2-a197-482ef9f247f8", "kind": "spray", "nozzle_gpm": 1.8492043665070392, "rated_psi": 30.45792492334394, "min_psi": 20.30528328222929, "max_psi": 44.96169869636486, "arc_deg": 180.0, "radius_ft": 11.811023622047243, "id": "91490b11-34e3-54c9-be83-795b2883293c", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebda-7edb-a343-e1d751049f95','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','head','d74e1c82-d147-5ca0-aa55-111cc6e49dfe','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "run_id": "b2ffbb20-81a1-5a6c-897d-e433e1bd9627", "kind": "spray", "nozzle_gpm": 1.8492043665070392, "rated_psi": 30.45792492334394, "min_psi": 20.30528328222929, "max_psi": 44.96169869636486, "arc_deg": 180.0, "radius_ft": 11.811023622047243, "id": "d74e1c82-d147-5ca0-aa55-111cc6e49dfe", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebdb-7afb-a82d-f19d6f2568fa','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','valve_box','91139afd-b13e-58b1-b8a6-d06ee1282f0b','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "name": "A", "location": "1.2 m from the terrace edge", "on_base": true, "id": "91139afd-b13e-58b1-b8a6-d06ee1282f0b", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebdc-7dd6-9a0c-7564904c02cb','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','cable','f4f31183-2734-534c-b9e2-41723c2ea195','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "name": "1", "gauge_awg": "18", "common_colour": "white", "common_waterproof": true, "id": "f4f31183-2734-534c-b9e2-41723c2ea195", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebdd-70ef-85cc-ce4ecad2bb8e','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','conductor','e9533b5d-de4e-528e-b3c5-08eac861f416','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "cable_id": "f4f31183-2734-534c-b9e2-41723c2ea195", "position": 1, "colour": "white", "id": "e9533b5d-de4e-528e-b3c5-08eac861f416", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebde-7ed1-b45c-38ba5aa44696','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','conductor','09164321-3a76-5832-a5ec-5210b9d71c47','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "cable_id": "f4f31183-2734-534c-b9e2-41723c2ea195", "position": 2, "colour": "brown", "id": "09164321-3a76-5832-a5ec-5210b9d71c47", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebdf-74f7-9b02-657450d79d91','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','conductor','cf8d8933-f914-5288-9d64-aa333a25d56b','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "cable_id": "f4f31183-2734-534c-b9e2-41723c2ea195", "position": 3, "colour": "gray", "id": "cf8d8933-f914-5288-9d64-aa333a25d56b", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebe0-74e3-ab96-98fc002095a5','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','conductor','4ef0bdba-1ae9-591c-89dc-93895595bdb9','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "cable_id": "f4f31183-2734-534c-b9e2-41723c2ea195", "position": 4, "colour": "violet", "id": "4ef0bdba-1ae9-591c-89dc-93895595bdb9", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebe1-7f44-970a-892a5500b103','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','valve','9ddf23c8-04f1-57c9-8388-0c7f595c3ef4','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "kind": "zone", "zone_id": "40b8a87d-06b9-5afb-92c1-4448c7cd74c4", "box_id": "91139afd-b13e-58b1-b8a6-d06ee1282f0b", "cable_id": "f4f31183-2734-534c-b9e2-41723c2ea195", "colour": "brown", "splice_waterproof": true, "coil_ohm": 26.5, "id": "9ddf23c8-04f1-57c9-8388-0c7f595c3ef4", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebe2-7d45-b007-9c4fae4cdb16','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','valve','f5ae6dc7-9ed3-54af-9d0d-f71b0745b920','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "kind": "zone", "zone_id": "ce9794ee-c005-5ed1-b0c7-c4b987657946", "box_id": "91139afd-b13e-58b1-b8a6-d06ee1282f0b", "cable_id": "f4f31183-2734-534c-b9e2-41723c2ea195", "colour": "gray", "splice_waterproof": true, "coil_ohm": 26.7, "id": "f5ae6dc7-9ed3-54af-9d0d-f71b0745b920", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebe3-783d-b649-d32e0032797e','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','flush','1841733e-1e7b-5f70-b277-681133c5fc2f','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "zone_id": "40b8a87d-06b9-5afb-92c1-4448c7cd74c4", "main_valve_on": true, "tops_off": true, "bleed_open": true, "ran_clear": true, "bleed_closed": true, "tops_back": true, "id": "1841733e-1e7b-5f70-b277-681133c5fc2f", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
INSERT INTO "entry" VALUES('01a214c5-ebe4-749d-927a-0172df22f513','01a214c5-ebc1-7454-aa75-cc4c40844474','do','','property 7 Birch Terrace imported','03ec1016-2c8a-5198-b9fd-ff744199738b','AB','2026-11-25T22:14:04+00:00','note','bc61e3b4-016d-53c9-af76-3d364066f4ef','','null','{"entered_by": "MO", "entered_at": "2026-08-12T10:05:00+02:00", "place": "street", "text": "Shown in metric. Wrong here: the critical level stands 150 mm over the highest sprinkler on the bank, not 305 mm.", "id": "bc61e3b4-016d-53c9-af76-3d364066f4ef", "job_id": "03ec1016-2c8a-5198-b9fd-ff744199738b"}');
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
INSERT INTO "flow_test_point" VALUES('9268176b-a180-5c77-975a-b1c4172e0504','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00',4.93128308282711387295e+01,NULL,5.28344104716296847357e+00,24.0);
CREATE TABLE flush (
	id VARCHAR NOT NULL, 
	job_id VARCHAR NOT NULL, 
	entered_by VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	zone_id VARCHAR NOT NULL, 
	main_valve_on BOOLEAN, 
	tops_off BOOLEAN, 
	bleed_open BOOLEAN, 
	ran_clear BOOLEAN, 
	bleed_closed BOOLEAN, 
	tops_back BOOLEAN, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "flush" VALUES('1841733e-1e7b-5f70-b277-681133c5fc2f','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','40b8a87d-06b9-5afb-92c1-4448c7cd74c4',1,1,1,1,1,1);
CREATE TABLE head (
	id VARCHAR NOT NULL, 
	job_id VARCHAR NOT NULL, 
	entered_by VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	run_id VARCHAR NOT NULL, 
	kind VARCHAR, 
	nozzle_gpm FLOAT, 
	rated_psi FLOAT, 
	min_psi FLOAT, 
	max_psi FLOAT, 
	arc_deg FLOAT, 
	radius_ft FLOAT, 
	elevation_ft FLOAT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "head" VALUES('7d68c5e2-4ddd-5407-8ea7-4c9647acccd7','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','c988bba4-a2ef-5652-af0f-76288e7886e9','spray',1.32086026179074211839e+00,3.04579249233439384178e+01,2.03052832822292899099e+01,4.49616986963648628244e+01,90.0,1.18110236220472426533e+01,NULL);
INSERT INTO "head" VALUES('d453472f-965d-5dcf-8747-cb4069baf402','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','53bd99a0-7e74-5e0d-bde8-f126c3f5e1c3','spray',1.8492043665070392322e+00,3.04579249233439384178e+01,2.03052832822292899099e+01,4.49616986963648628244e+01,180.0,1.18110236220472426533e+01,NULL);
INSERT INTO "head" VALUES('24d674e9-2c8a-5205-82a3-d43cdb678058','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','0b82a8a4-fc20-51a0-8597-e2a8701ec711','spray',1.8492043665070392322e+00,3.04579249233439384178e+01,2.03052832822292899099e+01,4.49616986963648628244e+01,180.0,1.18110236220472426533e+01,NULL);
INSERT INTO "head" VALUES('8882a766-6909-50ca-9afb-98a81e66648d','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','fde64e74-77f3-56b8-b998-3084962cc2e7','spray',1.8492043665070392322e+00,3.04579249233439384178e+01,2.03052832822292899099e+01,4.49616986963648628244e+01,180.0,1.18110236220472426533e+01,NULL);
INSERT INTO "head" VALUES('3b369422-df7d-5b3a-a7ba-c05ba69e3a5f','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','89778cc9-eb98-56ca-8f91-2bbb4e4176fc','spray',1.8492043665070392322e+00,3.04579249233439384178e+01,2.03052832822292899099e+01,4.49616986963648628244e+01,180.0,1.18110236220472426533e+01,NULL);
INSERT INTO "head" VALUES('4b6f9134-2d87-502f-9b9c-f1e71b4bf7bf','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','18755ecb-0617-53dd-ae35-3d8194907641','spray',1.8492043665070392322e+00,3.04579249233439384178e+01,2.03052832822292899099e+01,4.49616986963648628244e+01,180.0,1.18110236220472426533e+01,NULL);
INSERT INTO "head" VALUES('52db1107-721d-515d-a9c1-63822ef6955d','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','59679783-da1d-5866-82c9-8eb334c51b9f','spray',1.8492043665070392322e+00,3.04579249233439384178e+01,2.03052832822292899099e+01,4.49616986963648628244e+01,180.0,1.18110236220472426533e+01,NULL);
INSERT INTO "head" VALUES('91490b11-34e3-54c9-be83-795b2883293c','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','fa14efce-dc2d-54b2-a197-482ef9f247f8','spray',1.8492043665070392322e+00,3.04579249233439384178e+01,2.03052832822292899099e+01,4.49616986963648628244e+01,180.0,1.18110236220472426533e+01,NULL);
INSERT INTO "head" VALUES('d74e1c82-d147-5ca0-aa55-111cc6e49dfe','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','b2ffbb20-81a1-5a6c-897d-e433e1bd9627','spray',1.8492043665070392322e+00,3.04579249233439384178e+01,2.03052832822292899099e+01,4.49616986963648628244e+01,180.0,1.18110236220472426533e+01,NULL);
CREATE TABLE job (
	id VARCHAR NOT NULL, 
	entered_by VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	address VARCHAR NOT NULL, 
	customer VARCHAR NOT NULL, 
	phone VARCHAR NOT NULL, 
	access VARCHAR NOT NULL, 
	units VARCHAR NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "job" VALUES('03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','7 Birch Terrace','A. Haverkamp','555-0163','ring twice','metric');
CREATE TABLE laptop (
	id VARCHAR NOT NULL, 
	person_id VARCHAR NOT NULL, 
	since VARCHAR NOT NULL, 
	look VARCHAR NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(person_id) REFERENCES person (id)
);
INSERT INTO "laptop" VALUES('01a214c5-ebbc-795f-901d-0010d6f8f59b','01a214c5-ebb1-7bfb-82f3-5f8a08e18c15','2026-11-25T22:14:04+00:00','');
CREATE TABLE local_rules (
	id VARCHAR NOT NULL, 
	job_id VARCHAR NOT NULL, 
	entered_by VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
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
INSERT INTO "note" VALUES('bc61e3b4-016d-53c9-af76-3d364066f4ef','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','street','Shown in metric. Wrong here: the critical level stands 150 mm over the highest sprinkler on the bank, not 305 mm.');
CREATE TABLE person (
	id VARCHAR NOT NULL, 
	initials VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "person" VALUES('01a214c5-ebb1-7bfb-82f3-5f8a08e18c15','AB','2026-11-25T22:14:04+00:00');
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
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "pipe_run" VALUES('49f61c8c-5913-5d46-9c60-f741ab304082','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00',NULL,1,NULL,'1-1/4','pvc sch 40',4.59317585301837212358e+01,NULL);
INSERT INTO "pipe_run" VALUES('c988bba4-a2ef-5652-af0f-76288e7886e9','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','40b8a87d-06b9-5afb-92c1-4448c7cd74c4',1,NULL,'1','pvc sdr 21',1.18110236220472426533e+01,NULL);
INSERT INTO "pipe_run" VALUES('53bd99a0-7e74-5e0d-bde8-f126c3f5e1c3','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','40b8a87d-06b9-5afb-92c1-4448c7cd74c4',2,1,'1','pvc sdr 21',1.18110236220472426533e+01,NULL);
INSERT INTO "pipe_run" VALUES('0b82a8a4-fc20-51a0-8597-e2a8701ec711','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','40b8a87d-06b9-5afb-92c1-4448c7cd74c4',3,2,'3/4','pvc sdr 21',1.18110236220472426533e+01,NULL);
INSERT INTO "pipe_run" VALUES('fde64e74-77f3-56b8-b998-3084962cc2e7','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','40b8a87d-06b9-5afb-92c1-4448c7cd74c4',4,3,'3/4','pvc sdr 21',1.18110236220472426533e+01,NULL);
INSERT INTO "pipe_run" VALUES('89778cc9-eb98-56ca-8f91-2bbb4e4176fc','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','ce9794ee-c005-5ed1-b0c7-c4b987657946',1,NULL,'1','pvc sdr 21',1.18110236220472426533e+01,NULL);
INSERT INTO "pipe_run" VALUES('18755ecb-0617-53dd-ae35-3d8194907641','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','ce9794ee-c005-5ed1-b0c7-c4b987657946',2,1,'1','pvc sdr 21',1.18110236220472426533e+01,1.31233595800524938113e+00);
INSERT INTO "pipe_run" VALUES('59679783-da1d-5866-82c9-8eb334c51b9f','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','ce9794ee-c005-5ed1-b0c7-c4b987657946',3,2,'1','pvc sdr 21',1.18110236220472426533e+01,NULL);
INSERT INTO "pipe_run" VALUES('fa14efce-dc2d-54b2-a197-482ef9f247f8','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','ce9794ee-c005-5ed1-b0c7-c4b987657946',4,3,'3/4','pvc sdr 21',1.18110236220472426533e+01,NULL);
INSERT INTO "pipe_run" VALUES('b2ffbb20-81a1-5a6c-897d-e433e1bd9627','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','ce9794ee-c005-5ed1-b0c7-c4b987657946',5,4,'3/4','pvc sdr 21',1.18110236220472426533e+01,NULL);
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
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "supply" VALUES('faa50887-c7e0-54e9-a8d0-83fa1630f60c','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00',6.23662272239899664319e+01,'garden tap, 6 in the morning','1',NULL,'copper L','1-1/4',5.90551181102362150471e+01,0.0);
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
	coil_ohm FLOAT, 
	loss_psi FLOAT, 
	main_run INTEGER, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "valve" VALUES('9ddf23c8-04f1-57c9-8388-0c7f595c3ef4','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','40b8a87d-06b9-5afb-92c1-4448c7cd74c4','zone','91139afd-b13e-58b1-b8a6-d06ee1282f0b','f4f31183-2734-534c-b9e2-41723c2ea195','brown',1,26.5,NULL,NULL);
INSERT INTO "valve" VALUES('f5ae6dc7-9ed3-54af-9d0d-f71b0745b920','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','ce9794ee-c005-5ed1-b0c7-c4b987657946','zone','91139afd-b13e-58b1-b8a6-d06ee1282f0b','f4f31183-2734-534c-b9e2-41723c2ea195','gray',1,26.7,NULL,NULL);
CREATE TABLE valve_box (
	id VARCHAR NOT NULL, 
	job_id VARCHAR NOT NULL, 
	entered_by VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	location VARCHAR NOT NULL, 
	on_base BOOLEAN, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "valve_box" VALUES('91139afd-b13e-58b1-b8a6-d06ee1282f0b','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00','A','1.2 m from the terrace edge',1);
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
	backflow_id VARCHAR, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "zone" VALUES('40b8a87d-06b9-5afb-92c1-4448c7cd74c4','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00',1,'lower lawn','lawn','spray',NULL,NULL,NULL);
INSERT INTO "zone" VALUES('ce9794ee-c005-5ed1-b0c7-c4b987657946','03ec1016-2c8a-5198-b9fd-ff744199738b','MO','2026-08-12T10:05:00+02:00',2,'bank','lawn','spray',NULL,NULL,NULL);
CREATE INDEX ix_entry_group_id ON entry (group_id);
CREATE INDEX ix_entry_row_id ON entry (row_id);
CREATE INDEX ix_entry_job_id ON entry (job_id);
CREATE INDEX ix_note_job_id ON note (job_id);
CREATE INDEX ix_backflow_assembly_job_id ON backflow_assembly (job_id);
CREATE INDEX ix_controller_job_id ON controller (job_id);
CREATE INDEX ix_terminal_job_id ON terminal (job_id);
CREATE INDEX ix_local_rules_job_id ON local_rules (job_id);
CREATE INDEX ix_pipe_run_job_id ON pipe_run (job_id);
CREATE INDEX ix_flush_job_id ON flush (job_id);
CREATE INDEX ix_backfill_job_id ON backfill (job_id);
CREATE INDEX ix_supply_job_id ON supply (job_id);
CREATE INDEX ix_flow_test_point_job_id ON flow_test_point (job_id);
CREATE INDEX ix_valve_box_job_id ON valve_box (job_id);
CREATE INDEX ix_cable_job_id ON cable (job_id);
CREATE INDEX ix_conductor_job_id ON conductor (job_id);
CREATE INDEX ix_valve_job_id ON valve (job_id);
CREATE INDEX ix_zone_job_id ON zone (job_id);
CREATE INDEX ix_head_job_id ON head (job_id);
COMMIT;
