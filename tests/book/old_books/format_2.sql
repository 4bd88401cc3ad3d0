PRAGMA application_id=1717726001;
PRAGMA user_version=2;
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
	loss_curve VARCHAR NOT NULL, 
	exposed_pvc BOOLEAN, 
	pvc_painted BOOLEAN, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "backflow_assembly" VALUES('e6fcdd38-454f-5f2d-ae82-797113319a93','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','pump house wall','RP','1','B-1180',NULL,14.0,NULL,'',0,NULL);
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
INSERT INTO "cable" VALUES('da3e79e2-2b4c-54cb-be76-03eb9233b1e8','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','1','18',NULL,NULL);
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
INSERT INTO "conductor" VALUES('9988bccd-f23e-57a6-8fbc-26805a6096d1','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','da3e79e2-2b4c-54cb-be76-03eb9233b1e8',1,'white',NULL);
INSERT INTO "conductor" VALUES('3fe168b2-2cf4-50d2-a052-9f4206d5cd67','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','da3e79e2-2b4c-54cb-be76-03eb9233b1e8',2,'red',NULL);
INSERT INTO "conductor" VALUES('8fa8bf07-069a-5ff7-9e07-fd9befd2744f','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','da3e79e2-2b4c-54cb-be76-03eb9233b1e8',3,'black',NULL);
INSERT INTO "conductor" VALUES('be5799ad-4f4b-5dab-80bb-ce3d0f597c7c','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','da3e79e2-2b4c-54cb-be76-03eb9233b1e8',4,'blue',NULL);
INSERT INTO "conductor" VALUES('71c19ad3-eb5e-5768-88e5-bcb2655af4b7','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','da3e79e2-2b4c-54cb-be76-03eb9233b1e8',5,'orange',NULL);
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
INSERT INTO "entry" VALUES('01a214d2-fa56-7b6b-aa2d-e02e7eb02c5d','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','job','af5c4756-480a-5652-a59b-92e3bf5b0ddb','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "address": "208 Quarry Road", "customer": "The Lindqvists", "phone": "555-0117", "access": "code 4471 at the lower gate", "units": "us", "id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa57-7098-8bf9-f7583ef51dbc','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','supply','11cd7fdc-ce8d-5da8-bd9e-89d4e5b5874f','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "static_psi": 74.0, "static_where": "hose tap by the kitchen, 7 in the evening", "meter_size": "3/4", "service_class": "copper L", "service_size": "1", "service_length_ft": 70.0, "id": "11cd7fdc-ce8d-5da8-bd9e-89d4e5b5874f", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa58-735c-bf43-8ef2a9cd552c','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','backflow_assembly','e6fcdd38-454f-5f2d-ae82-797113319a93','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "name": "pump house wall", "kind": "RP", "size": "1", "serial": "B-1180", "above_grade_in": 14.0, "exposed_pvc": false, "id": "e6fcdd38-454f-5f2d-ae82-797113319a93", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb", "loss_curve": ""}');
INSERT INTO "entry" VALUES('01a214d2-fa59-7fcc-907c-fac3607bb493','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','zone','65297bad-3f1e-58ca-b8c6-0432c8a70ef3','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "number": 1, "name": "terrace", "waters": "lawn", "head_kind": "spray", "design_flow_gpm": 8.5, "id": "65297bad-3f1e-58ca-b8c6-0432c8a70ef3", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa5a-78d4-96ac-21b811c930e4','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','zone','0049627a-f7fc-5eb9-b118-cfac06fad42c','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "number": 2, "name": "orchard", "waters": "lawn", "head_kind": "rotor", "design_flow_gpm": 17.0, "id": "0049627a-f7fc-5eb9-b118-cfac06fad42c", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa5b-7445-aa3d-fba572fdbf82','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','zone','cae2a34e-2e4f-5199-b41a-5535dd51ef5f','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "number": 3, "name": "kitchen garden", "waters": "beds", "head_kind": "drip", "design_flow_gpm": 3.0, "id": "cae2a34e-2e4f-5199-b41a-5535dd51ef5f", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa5c-7d21-a34e-cbc9e55546a6','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','pipe_run','ec6f461f-9f19-5479-91c6-c196a65beaef','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "number": 1, "size": "1-1/4", "pipe_class": "pvc sch 40", "length_ft": 80.0, "rise_ft": 4.0, "id": "ec6f461f-9f19-5479-91c6-c196a65beaef", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa5d-7f7c-8d72-a2ef0ff244e5','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','pipe_run','27785b6e-8375-5f54-9485-d46430e2b3bb','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "zone_id": "65297bad-3f1e-58ca-b8c6-0432c8a70ef3", "number": 1, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 18.0, "rise_ft": 0.0, "id": "27785b6e-8375-5f54-9485-d46430e2b3bb", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa5e-7a05-bb97-7a7d915d18ee','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','pipe_run','d69dd0a5-b7c0-5309-ac69-7a9b106d6eea','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "zone_id": "65297bad-3f1e-58ca-b8c6-0432c8a70ef3", "number": 2, "after": 1, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 15.0, "rise_ft": 0.5, "id": "d69dd0a5-b7c0-5309-ac69-7a9b106d6eea", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa5f-730e-9239-6018b77f9ce2','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','pipe_run','496416ea-ffc7-5e03-820a-df9807003449','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "zone_id": "65297bad-3f1e-58ca-b8c6-0432c8a70ef3", "number": 3, "after": 2, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 15.0, "rise_ft": 0.5, "id": "496416ea-ffc7-5e03-820a-df9807003449", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa60-7320-8a77-27a3291941b6','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','pipe_run','a4f8ad2c-4648-5c68-b735-166dc29e86c2','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "zone_id": "65297bad-3f1e-58ca-b8c6-0432c8a70ef3", "number": 4, "after": 3, "size": "3/4", "pipe_class": "pvc sdr 21", "length_ft": 15.0, "rise_ft": 0.0, "id": "a4f8ad2c-4648-5c68-b735-166dc29e86c2", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa61-785d-b20c-ec7875228b41','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','pipe_run','ff4b79db-27d4-5e54-9a84-1fdf83b4f366','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "zone_id": "65297bad-3f1e-58ca-b8c6-0432c8a70ef3", "number": 5, "after": 4, "size": "3/4", "pipe_class": "pvc sdr 21", "length_ft": 15.0, "rise_ft": 0.5, "id": "ff4b79db-27d4-5e54-9a84-1fdf83b4f366", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa62-7488-9c3d-a0164ca17303','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','pipe_run','fce4330c-a8f6-5036-bb04-734257d1aa9b','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "zone_id": "65297bad-3f1e-58ca-b8c6-0432c8a70ef3", "number": 6, "after": 5, "size": "3/4", "pipe_class": "pvc sdr 21", "length_ft": 15.0, "rise_ft": 0.0, "id": "fce4330c-a8f6-5036-bb04-734257d1aa9b", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa63-7227-ac62-c7aa558bda1d','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','pipe_run','a34cc35f-6c31-52ec-b65a-1ae3698c5bd4','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "zone_id": "0049627a-f7fc-5eb9-b118-cfac06fad42c", "number": 1, "size": "1-1/4", "pipe_class": "pvc sdr 21", "length_ft": 30.0, "rise_ft": 1.0, "id": "a34cc35f-6c31-52ec-b65a-1ae3698c5bd4", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa64-75af-bcdc-da57fd717609','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','pipe_run','1965ea9a-9edd-58b1-bcac-ce12c3bf28bc','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "zone_id": "0049627a-f7fc-5eb9-b118-cfac06fad42c", "number": 2, "after": 1, "size": "1-1/4", "pipe_class": "pvc sdr 21", "length_ft": 32.0, "rise_ft": 0.0, "id": "1965ea9a-9edd-58b1-bcac-ce12c3bf28bc", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa65-7d07-a70a-9ca5a3b6014a','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','pipe_run','b087c837-f855-5372-81bf-4d425c1fc25d','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "zone_id": "0049627a-f7fc-5eb9-b118-cfac06fad42c", "number": 3, "after": 2, "size": "1-1/4", "pipe_class": "pvc sdr 21", "length_ft": 32.0, "rise_ft": 0.0, "id": "b087c837-f855-5372-81bf-4d425c1fc25d", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa66-78de-97b8-9284a9ae67e0','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','pipe_run','40a445aa-0212-5463-a350-699286e76d51','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "zone_id": "0049627a-f7fc-5eb9-b118-cfac06fad42c", "number": 4, "after": 3, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 32.0, "rise_ft": 1.0, "id": "40a445aa-0212-5463-a350-699286e76d51", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa67-797e-b9e3-2b4cf961e0dc','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','pipe_run','29a45d76-2678-5130-822e-23a431586b74','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "zone_id": "0049627a-f7fc-5eb9-b118-cfac06fad42c", "number": 5, "after": 4, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 32.0, "rise_ft": 0.0, "id": "29a45d76-2678-5130-822e-23a431586b74", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa68-7e6a-bdfb-4c307ea8474c','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','pipe_run','81d4d835-1fa2-5f23-8920-7a930a1c0fc4','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "zone_id": "0049627a-f7fc-5eb9-b118-cfac06fad42c", "number": 6, "after": 5, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 32.0, "rise_ft": 1.0, "id": "81d4d835-1fa2-5f23-8920-7a930a1c0fc4", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa69-76fc-81d8-76ca5362b04a','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','pipe_run','6072a38f-8fa4-55d9-898a-b4421eb96240','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "zone_id": "0049627a-f7fc-5eb9-b118-cfac06fad42c", "number": 7, "after": 6, "size": "3/4", "pipe_class": "pvc sdr 21", "length_ft": 32.0, "rise_ft": 0.0, "id": "6072a38f-8fa4-55d9-898a-b4421eb96240", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa6a-7a07-98a4-a99ec79cac8c','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','head','1362062c-8342-5d12-9b6e-64cc8d18f753','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "run_id": "27785b6e-8375-5f54-9485-d46430e2b3bb", "kind": "spray", "nozzle_gpm": 1.4, "rated_psi": 30.0, "arc_deg": 180.0, "radius_ft": 15.0, "min_psi": 20.0, "max_psi": 70.0, "regulated_psi": 30.0, "id": "1362062c-8342-5d12-9b6e-64cc8d18f753", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa6b-78c5-bb24-42098842ebb6','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','head','820f6ec8-da52-5b56-9021-1893a70aeacc','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "run_id": "d69dd0a5-b7c0-5309-ac69-7a9b106d6eea", "kind": "spray", "nozzle_gpm": 1.4, "rated_psi": 30.0, "arc_deg": 180.0, "radius_ft": 15.0, "min_psi": 20.0, "max_psi": 70.0, "regulated_psi": 30.0, "id": "820f6ec8-da52-5b56-9021-1893a70aeacc", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa6c-76d9-8574-9e747680a1ef','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','head','f0fc6cee-72f2-5177-9911-db62d57e7bab','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "run_id": "496416ea-ffc7-5e03-820a-df9807003449", "kind": "spray", "nozzle_gpm": 1.4, "rated_psi": 30.0, "arc_deg": 180.0, "radius_ft": 15.0, "min_psi": 20.0, "max_psi": 70.0, "regulated_psi": 30.0, "id": "f0fc6cee-72f2-5177-9911-db62d57e7bab", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa6d-798a-8470-916daddf9a40','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','head','74b36ffa-b332-50b3-98db-7d7dfa80f092','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "run_id": "a4f8ad2c-4648-5c68-b735-166dc29e86c2", "kind": "spray", "nozzle_gpm": 1.4, "rated_psi": 30.0, "arc_deg": 180.0, "radius_ft": 15.0, "min_psi": 20.0, "max_psi": 70.0, "regulated_psi": 30.0, "id": "74b36ffa-b332-50b3-98db-7d7dfa80f092", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa6e-78d8-92c8-45697cea5e4a','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','head','d668524f-39d4-5865-96e1-48df87f2ead5','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "run_id": "ff4b79db-27d4-5e54-9a84-1fdf83b4f366", "kind": "spray", "nozzle_gpm": 1.4, "rated_psi": 30.0, "arc_deg": 180.0, "radius_ft": 15.0, "min_psi": 20.0, "max_psi": 70.0, "regulated_psi": 30.0, "id": "d668524f-39d4-5865-96e1-48df87f2ead5", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa6f-70bf-b98d-aeadf3e43e0a','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','head','64169bb7-45c6-5de1-990f-cec1c721bf8b','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "run_id": "fce4330c-a8f6-5036-bb04-734257d1aa9b", "kind": "spray", "nozzle_gpm": 1.5, "rated_psi": 30.0, "arc_deg": 180.0, "radius_ft": 15.0, "min_psi": 20.0, "max_psi": 70.0, "regulated_psi": 30.0, "id": "64169bb7-45c6-5de1-990f-cec1c721bf8b", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa70-7a73-a69d-f60b02977fdd','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','head','f0ee0adf-070b-5067-91dd-f9c82c51a0c3','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "run_id": "a34cc35f-6c31-52ec-b65a-1ae3698c5bd4", "kind": "rotor", "nozzle_gpm": 2.5, "rated_psi": 35.0, "arc_deg": 180.0, "radius_ft": 35.0, "min_psi": 25.0, "max_psi": 65.0, "regulated_psi": 35.0, "id": "f0ee0adf-070b-5067-91dd-f9c82c51a0c3", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa71-7cd9-9a0f-8100efd8b038','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','head','8aab3faf-b66c-5302-90e1-aa635bd15b62','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "run_id": "1965ea9a-9edd-58b1-bcac-ce12c3bf28bc", "kind": "rotor", "nozzle_gpm": 2.5, "rated_psi": 35.0, "arc_deg": 180.0, "radius_ft": 35.0, "min_psi": 25.0, "max_psi": 65.0, "regulated_psi": 35.0, "id": "8aab3faf-b66c-5302-90e1-aa635bd15b62", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa72-7770-afe2-198ab3d85ae4','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','head','f1d89b2b-acda-572a-898c-41d942def572','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "run_id": "b087c837-f855-5372-81bf-4d425c1fc25d", "kind": "rotor", "nozzle_gpm": 2.5, "rated_psi": 35.0, "arc_deg": 180.0, "radius_ft": 35.0, "min_psi": 25.0, "max_psi": 65.0, "regulated_psi": 35.0, "id": "f1d89b2b-acda-572a-898c-41d942def572", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa73-7053-bdab-f66a2f1952bc','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','head','49a70e99-27da-5a1f-bd13-e5dfb38f6cfa','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "run_id": "40a445aa-0212-5463-a350-699286e76d51", "kind": "rotor", "nozzle_gpm": 2.5, "rated_psi": 35.0, "arc_deg": 180.0, "radius_ft": 35.0, "min_psi": 25.0, "max_psi": 65.0, "regulated_psi": 35.0, "id": "49a70e99-27da-5a1f-bd13-e5dfb38f6cfa", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa74-7a86-8685-e568b1bc732f','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','head','6478eba3-5a59-5feb-9966-c58857ea2a21','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "run_id": "29a45d76-2678-5130-822e-23a431586b74", "kind": "rotor", "nozzle_gpm": 2.5, "rated_psi": 35.0, "arc_deg": 180.0, "radius_ft": 35.0, "min_psi": 25.0, "max_psi": 65.0, "regulated_psi": 35.0, "id": "6478eba3-5a59-5feb-9966-c58857ea2a21", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa75-72de-9f20-87d91eb5c76d','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','head','c57bc076-7875-5d3c-9c0d-0f1fe44443e1','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "run_id": "81d4d835-1fa2-5f23-8920-7a930a1c0fc4", "kind": "rotor", "nozzle_gpm": 2.5, "rated_psi": 35.0, "arc_deg": 180.0, "radius_ft": 35.0, "min_psi": 25.0, "max_psi": 65.0, "regulated_psi": 35.0, "id": "c57bc076-7875-5d3c-9c0d-0f1fe44443e1", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa76-7321-8f6d-108db648fa12','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','head','bea6d52d-02ed-5ce1-b482-17b7e27c53bc','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "run_id": "6072a38f-8fa4-55d9-898a-b4421eb96240", "kind": "rotor", "nozzle_gpm": 2.0, "rated_psi": 35.0, "arc_deg": 90.0, "radius_ft": 35.0, "min_psi": 25.0, "max_psi": 65.0, "regulated_psi": 35.0, "id": "bea6d52d-02ed-5ce1-b482-17b7e27c53bc", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa77-7740-a627-3c758c431c03','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','valve_box','aebbac23-2c70-56af-8bec-0cb66d9e6899','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "name": "A", "location": "12 ft from the pump house, 6 ft off the wall", "on_base": true, "id": "aebbac23-2c70-56af-8bec-0cb66d9e6899", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa78-7486-ad7f-6fcbdc55e358','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','cable','da3e79e2-2b4c-54cb-be76-03eb9233b1e8','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "name": "1", "gauge_awg": "18", "id": "da3e79e2-2b4c-54cb-be76-03eb9233b1e8", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa79-748d-8b1f-db969f6a93d3','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','conductor','9988bccd-f23e-57a6-8fbc-26805a6096d1','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "cable_id": "da3e79e2-2b4c-54cb-be76-03eb9233b1e8", "position": 1, "colour": "white", "id": "9988bccd-f23e-57a6-8fbc-26805a6096d1", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa7a-7d29-987a-26a019d33ee9','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','conductor','3fe168b2-2cf4-50d2-a052-9f4206d5cd67','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "cable_id": "da3e79e2-2b4c-54cb-be76-03eb9233b1e8", "position": 2, "colour": "red", "id": "3fe168b2-2cf4-50d2-a052-9f4206d5cd67", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa7b-7be1-966c-408c2e4dc8ba','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','conductor','8fa8bf07-069a-5ff7-9e07-fd9befd2744f','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "cable_id": "da3e79e2-2b4c-54cb-be76-03eb9233b1e8", "position": 3, "colour": "black", "id": "8fa8bf07-069a-5ff7-9e07-fd9befd2744f", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa7c-7ddd-9350-c6ff77497c28','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','conductor','be5799ad-4f4b-5dab-80bb-ce3d0f597c7c','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "cable_id": "da3e79e2-2b4c-54cb-be76-03eb9233b1e8", "position": 4, "colour": "blue", "id": "be5799ad-4f4b-5dab-80bb-ce3d0f597c7c", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa7d-7232-ad9d-15af9eec929b','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','conductor','71c19ad3-eb5e-5768-88e5-bcb2655af4b7','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "cable_id": "da3e79e2-2b4c-54cb-be76-03eb9233b1e8", "position": 5, "colour": "orange", "id": "71c19ad3-eb5e-5768-88e5-bcb2655af4b7", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
INSERT INTO "entry" VALUES('01a214d2-fa7e-74d6-bea2-c97c695035c2','01a214d2-fa55-7218-a9b8-72cb325a4c22','do','','property 208 Quarry Road imported','af5c4756-480a-5652-a59b-92e3bf5b0ddb','AB','2026-11-25T22:28:20+00:00','note','e5851441-a2d4-5b23-bc15-bcff7d0031f3','','null','{"entered_by": "JT", "entered_at": "2026-09-21T11:15:00-05:00", "place": "ground", "text": "Wrong here: zone 2, the orchard, draws 17 gpm, more than the 1 in copper service line carries at 5 ft/s.", "id": "e5851441-a2d4-5b23-bc15-bcff7d0031f3", "job_id": "af5c4756-480a-5652-a59b-92e3bf5b0ddb"}');
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
	elevation_ft FLOAT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "head" VALUES('1362062c-8342-5d12-9b6e-64cc8d18f753','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','27785b6e-8375-5f54-9485-d46430e2b3bb','spray',1.4,30.0,30.0,20.0,70.0,180.0,15.0,NULL);
INSERT INTO "head" VALUES('820f6ec8-da52-5b56-9021-1893a70aeacc','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','d69dd0a5-b7c0-5309-ac69-7a9b106d6eea','spray',1.4,30.0,30.0,20.0,70.0,180.0,15.0,NULL);
INSERT INTO "head" VALUES('f0fc6cee-72f2-5177-9911-db62d57e7bab','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','496416ea-ffc7-5e03-820a-df9807003449','spray',1.4,30.0,30.0,20.0,70.0,180.0,15.0,NULL);
INSERT INTO "head" VALUES('74b36ffa-b332-50b3-98db-7d7dfa80f092','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','a4f8ad2c-4648-5c68-b735-166dc29e86c2','spray',1.4,30.0,30.0,20.0,70.0,180.0,15.0,NULL);
INSERT INTO "head" VALUES('d668524f-39d4-5865-96e1-48df87f2ead5','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','ff4b79db-27d4-5e54-9a84-1fdf83b4f366','spray',1.4,30.0,30.0,20.0,70.0,180.0,15.0,NULL);
INSERT INTO "head" VALUES('64169bb7-45c6-5de1-990f-cec1c721bf8b','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','fce4330c-a8f6-5036-bb04-734257d1aa9b','spray',1.5,30.0,30.0,20.0,70.0,180.0,15.0,NULL);
INSERT INTO "head" VALUES('f0ee0adf-070b-5067-91dd-f9c82c51a0c3','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','a34cc35f-6c31-52ec-b65a-1ae3698c5bd4','rotor',2.5,35.0,35.0,25.0,65.0,180.0,35.0,NULL);
INSERT INTO "head" VALUES('8aab3faf-b66c-5302-90e1-aa635bd15b62','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','1965ea9a-9edd-58b1-bcac-ce12c3bf28bc','rotor',2.5,35.0,35.0,25.0,65.0,180.0,35.0,NULL);
INSERT INTO "head" VALUES('f1d89b2b-acda-572a-898c-41d942def572','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','b087c837-f855-5372-81bf-4d425c1fc25d','rotor',2.5,35.0,35.0,25.0,65.0,180.0,35.0,NULL);
INSERT INTO "head" VALUES('49a70e99-27da-5a1f-bd13-e5dfb38f6cfa','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','40a445aa-0212-5463-a350-699286e76d51','rotor',2.5,35.0,35.0,25.0,65.0,180.0,35.0,NULL);
INSERT INTO "head" VALUES('6478eba3-5a59-5feb-9966-c58857ea2a21','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','29a45d76-2678-5130-822e-23a431586b74','rotor',2.5,35.0,35.0,25.0,65.0,180.0,35.0,NULL);
INSERT INTO "head" VALUES('c57bc076-7875-5d3c-9c0d-0f1fe44443e1','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','81d4d835-1fa2-5f23-8920-7a930a1c0fc4','rotor',2.5,35.0,35.0,25.0,65.0,180.0,35.0,NULL);
INSERT INTO "head" VALUES('bea6d52d-02ed-5ce1-b482-17b7e27c53bc','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','6072a38f-8fa4-55d9-898a-b4421eb96240','rotor',2.0,35.0,35.0,25.0,65.0,90.0,35.0,NULL);
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
INSERT INTO "job" VALUES('af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','208 Quarry Road','The Lindqvists','555-0117','code 4471 at the lower gate','us');
CREATE TABLE laptop (
	id VARCHAR NOT NULL, 
	person_id VARCHAR NOT NULL, 
	since VARCHAR NOT NULL, 
	look VARCHAR NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(person_id) REFERENCES person (id)
);
INSERT INTO "laptop" VALUES('01a214d2-fa4f-7a8a-aea1-f76ca84a68f2','01a214d2-fa44-7d24-88ec-82cd7c401a02','2026-11-25T22:28:20+00:00','');
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
INSERT INTO "note" VALUES('e5851441-a2d4-5b23-bc15-bcff7d0031f3','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','ground','Wrong here: zone 2, the orchard, draws 17 gpm, more than the 1 in copper service line carries at 5 ft/s.');
CREATE TABLE person (
	id VARCHAR NOT NULL, 
	initials VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "person" VALUES('01a214d2-fa44-7d24-88ec-82cd7c401a02','AB','2026-11-25T22:28:20+00:00');
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
INSERT INTO "pipe_run" VALUES('ec6f461f-9f19-5479-91c6-c196a65beaef','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00',NULL,1,NULL,'1-1/4','pvc sch 40',80.0,4.0,NULL,NULL);
INSERT INTO "pipe_run" VALUES('27785b6e-8375-5f54-9485-d46430e2b3bb','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','65297bad-3f1e-58ca-b8c6-0432c8a70ef3',1,NULL,'1','pvc sdr 21',18.0,0.0,NULL,NULL);
INSERT INTO "pipe_run" VALUES('d69dd0a5-b7c0-5309-ac69-7a9b106d6eea','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','65297bad-3f1e-58ca-b8c6-0432c8a70ef3',2,1,'1','pvc sdr 21',15.0,0.5,NULL,NULL);
INSERT INTO "pipe_run" VALUES('496416ea-ffc7-5e03-820a-df9807003449','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','65297bad-3f1e-58ca-b8c6-0432c8a70ef3',3,2,'1','pvc sdr 21',15.0,0.5,NULL,NULL);
INSERT INTO "pipe_run" VALUES('a4f8ad2c-4648-5c68-b735-166dc29e86c2','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','65297bad-3f1e-58ca-b8c6-0432c8a70ef3',4,3,'3/4','pvc sdr 21',15.0,0.0,NULL,NULL);
INSERT INTO "pipe_run" VALUES('ff4b79db-27d4-5e54-9a84-1fdf83b4f366','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','65297bad-3f1e-58ca-b8c6-0432c8a70ef3',5,4,'3/4','pvc sdr 21',15.0,0.5,NULL,NULL);
INSERT INTO "pipe_run" VALUES('fce4330c-a8f6-5036-bb04-734257d1aa9b','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','65297bad-3f1e-58ca-b8c6-0432c8a70ef3',6,5,'3/4','pvc sdr 21',15.0,0.0,NULL,NULL);
INSERT INTO "pipe_run" VALUES('a34cc35f-6c31-52ec-b65a-1ae3698c5bd4','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','0049627a-f7fc-5eb9-b118-cfac06fad42c',1,NULL,'1-1/4','pvc sdr 21',30.0,1.0,NULL,NULL);
INSERT INTO "pipe_run" VALUES('1965ea9a-9edd-58b1-bcac-ce12c3bf28bc','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','0049627a-f7fc-5eb9-b118-cfac06fad42c',2,1,'1-1/4','pvc sdr 21',32.0,0.0,NULL,NULL);
INSERT INTO "pipe_run" VALUES('b087c837-f855-5372-81bf-4d425c1fc25d','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','0049627a-f7fc-5eb9-b118-cfac06fad42c',3,2,'1-1/4','pvc sdr 21',32.0,0.0,NULL,NULL);
INSERT INTO "pipe_run" VALUES('40a445aa-0212-5463-a350-699286e76d51','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','0049627a-f7fc-5eb9-b118-cfac06fad42c',4,3,'1','pvc sdr 21',32.0,1.0,NULL,NULL);
INSERT INTO "pipe_run" VALUES('29a45d76-2678-5130-822e-23a431586b74','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','0049627a-f7fc-5eb9-b118-cfac06fad42c',5,4,'1','pvc sdr 21',32.0,0.0,NULL,NULL);
INSERT INTO "pipe_run" VALUES('81d4d835-1fa2-5f23-8920-7a930a1c0fc4','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','0049627a-f7fc-5eb9-b118-cfac06fad42c',6,5,'1','pvc sdr 21',32.0,1.0,NULL,NULL);
INSERT INTO "pipe_run" VALUES('6072a38f-8fa4-55d9-898a-b4421eb96240','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','0049627a-f7fc-5eb9-b118-cfac06fad42c',7,6,'3/4','pvc sdr 21',32.0,0.0,NULL,NULL);
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
	friction_law VARCHAR, 
	water_deg_f INTEGER, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "supply" VALUES('11cd7fdc-ce8d-5da8-bd9e-89d4e5b5874f','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00',74.0,'hose tap by the kitchen, 7 in the evening','3/4',NULL,'copper L','1',70.0,NULL,NULL,NULL);
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
	cv FLOAT, 
	regulator_psi FLOAT, 
	filter_curve VARCHAR NOT NULL, 
	main_run INTEGER, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
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
INSERT INTO "valve_box" VALUES('aebbac23-2c70-56af-8bec-0cb66d9e6899','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00','A','12 ft from the pump house, 6 ft off the wall',1);
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
	runs_with VARCHAR, 
	backflow_id VARCHAR, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "zone" VALUES('65297bad-3f1e-58ca-b8c6-0432c8a70ef3','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00',1,'terrace','lawn','spray',8.5,NULL,NULL,NULL);
INSERT INTO "zone" VALUES('0049627a-f7fc-5eb9-b118-cfac06fad42c','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00',2,'orchard','lawn','rotor',17.0,NULL,NULL,NULL);
INSERT INTO "zone" VALUES('cae2a34e-2e4f-5199-b41a-5535dd51ef5f','af5c4756-480a-5652-a59b-92e3bf5b0ddb','JT','2026-09-21T11:15:00-05:00',3,'kitchen garden','beds','drip',3.0,NULL,NULL,NULL);
CREATE INDEX ix_entry_group_id ON entry (group_id);
CREATE INDEX ix_entry_job_id ON entry (job_id);
CREATE INDEX ix_entry_row_id ON entry (row_id);
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
