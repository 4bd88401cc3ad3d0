PRAGMA application_id=1717726001;
PRAGMA user_version=3;
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
INSERT INTO "backfill" VALUES('dcb018a3-24f4-5316-908c-0d10f2637b2c','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00',NULL,14.0,1,NULL,NULL,'MO','2026-05-06T15:10:00-05:00');
INSERT INTO "backfill" VALUES('e0b20571-9551-5572-a21d-c799091931e1','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5',9.0,1,1,1,'MO','2026-05-06T15:15:00-05:00');
INSERT INTO "backfill" VALUES('9ed64b42-2a7d-53ff-bc24-e0d825a9a598','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','a9345d6c-7f5c-5817-a137-771f16836668',9.0,1,1,1,'MO','2026-05-06T15:20:00-05:00');
INSERT INTO "backfill" VALUES('60d074fb-af53-51c5-911e-4fa1a52c30a3','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','f8159315-2b2b-5642-9202-e6ca4e097295',9.0,1,1,1,'MO','2026-05-06T15:25:00-05:00');
INSERT INTO "backfill" VALUES('2a4ba391-e01a-5424-b597-099df63078b2','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','fd509818-25f0-5c63-b01d-e7c79a9237bc',9.0,1,1,1,'MO','2026-05-06T15:30:00-05:00');
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
INSERT INTO "backflow_assembly" VALUES('0bfb58fc-1f52-5c6f-bc08-3e4ab0bbb14e','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','left of the garage','PVB','1-1/4','A-20713',2.5,30.0,NULL,'',1,1);
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
INSERT INTO "cable" VALUES('c03ae3f2-299b-5e82-a450-ac49b601b489','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','1','18','white',1,NULL,NULL);
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
INSERT INTO "conductor" VALUES('c3221be7-ef37-5513-9404-93a119086011','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','c03ae3f2-299b-5e82-a450-ac49b601b489',1,'white',NULL);
INSERT INTO "conductor" VALUES('751e3387-61ef-5181-823b-d6bcb07405e4','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','c03ae3f2-299b-5e82-a450-ac49b601b489',2,'red',NULL);
INSERT INTO "conductor" VALUES('124bc9f7-2cd1-538c-807d-8ae0b8378d52','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','c03ae3f2-299b-5e82-a450-ac49b601b489',3,'blue',NULL);
INSERT INTO "conductor" VALUES('ce4c126a-fc34-54cf-8c3a-194aae2b3cd5','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','c03ae3f2-299b-5e82-a450-ac49b601b489',4,'green',NULL);
INSERT INTO "conductor" VALUES('502184ed-f458-5923-830c-b8a04e35f067','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','c03ae3f2-299b-5e82-a450-ac49b601b489',5,'yellow',NULL);
INSERT INTO "conductor" VALUES('6c21b3f8-e557-576c-a0fd-fda5678dbe7b','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','c03ae3f2-299b-5e82-a450-ac49b601b489',6,'orange',1);
INSERT INTO "conductor" VALUES('4f9f72c2-3357-57d0-ae58-f137a8810dd6','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','c03ae3f2-299b-5e82-a450-ac49b601b489',7,'black',1);
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
INSERT INTO "controller" VALUES('bfb3a2f1-31ab-5a41-a659-137199e0a568','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','garage, beside the side door',4,0,NULL,1,1,1,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
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
INSERT INTO "entry" VALUES('01a214e2-6343-7d54-8970-7a490f6e62f6','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','job','72d403ca-149d-5110-bfe7-a1397e2c8804','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "address": "14 Alder Lane", "customer": "R. Okonjo", "phone": "555-0142", "access": "side gate, latch sticks; dog in the house", "units": "us", "id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6344-7f67-a869-5db51830277c','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','local_rules','284f388f-f9e0-59cb-9f62-f88a19581c99','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "backflow_height_in": 12.0, "backflow_code": "town plumbing code, chapter on lawn irrigation", "rain_sensor_required": true, "rain_sensor_code": "town water ordinance", "id": "284f388f-f9e0-59cb-9f62-f88a19581c99", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804", "cover_code": ""}');
INSERT INTO "entry" VALUES('01a214e2-6345-7621-adc2-0a3566fca973','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','supply','3dd02a94-efab-51fb-9466-d15c75354f6d','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "static_psi": 64.0, "static_where": "hose tap at the garage, 6 in the morning", "meter_size": "1", "service_class": "copper L", "service_size": "1-1/4", "service_length_ft": 55.0, "elevation_ft": 0.0, "id": "3dd02a94-efab-51fb-9466-d15c75354f6d", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6346-7d7c-b849-9b56eab49fde','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','flow_test_point','36ad29d0-2b55-55a3-9b4b-f155a05ab56d','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "residual_psi": 52.0, "flow_gpm": 14.0, "id": "36ad29d0-2b55-55a3-9b4b-f155a05ab56d", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6347-79c3-9a26-878e19c95bc8','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','backflow_assembly','0bfb58fc-1f52-5c6f-bc08-3e4ab0bbb14e','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "name": "left of the garage", "kind": "PVB", "size": "1-1/4", "serial": "A-20713", "critical_level_ft": 2.5, "above_grade_in": 30.0, "exposed_pvc": true, "pvc_painted": true, "id": "0bfb58fc-1f52-5c6f-bc08-3e4ab0bbb14e", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804", "loss_curve": ""}');
INSERT INTO "entry" VALUES('01a214e2-6348-7cdd-8e25-6d7b90fd7e97','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','zone','7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "number": 1, "name": "front lawn", "waters": "lawn", "head_kind": "spray", "id": "7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6349-742d-a42b-0ac808d020fe','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','zone','a9345d6c-7f5c-5817-a137-771f16836668','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "number": 2, "name": "side strip", "waters": "lawn", "head_kind": "spray", "id": "a9345d6c-7f5c-5817-a137-771f16836668", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-634a-79d7-9a60-07e59989f5e8','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','zone','f8159315-2b2b-5642-9202-e6ca4e097295','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "number": 3, "name": "back lawn", "waters": "lawn", "head_kind": "rotor", "id": "f8159315-2b2b-5642-9202-e6ca4e097295", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-634b-7210-a3b5-0020f2b2e466','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','zone','fd509818-25f0-5c63-b01d-e7c79a9237bc','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "number": 4, "name": "rose beds", "waters": "beds", "head_kind": "spray", "id": "fd509818-25f0-5c63-b01d-e7c79a9237bc", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-634c-7eda-845c-2174f46af5c3','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','41c2e4a5-82a0-508f-8ed1-8b7eb1565a82','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "number": 1, "size": "1-1/4", "pipe_class": "pvc sch 40", "length_ft": 45.0, "id": "41c2e4a5-82a0-508f-8ed1-8b7eb1565a82", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-634d-7beb-ae55-e8a0e2d064e5','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','a0062a48-f888-5eda-8762-71c19f3bce37','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "number": 2, "after": 1, "size": "1-1/4", "pipe_class": "pvc sch 40", "length_ft": 30.0, "rise_ft": 1.0, "id": "a0062a48-f888-5eda-8762-71c19f3bce37", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-634e-74e2-acef-49294280259a','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','badf809a-f44e-5256-809d-976ca8878cc9','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5", "number": 1, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 12.0, "id": "badf809a-f44e-5256-809d-976ca8878cc9", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-634f-740e-9b19-4cea5cd4a271','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','9a97c25e-9aa5-5ae6-ad61-e9aa4d744bef','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5", "number": 2, "after": 1, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 12.0, "id": "9a97c25e-9aa5-5ae6-ad61-e9aa4d744bef", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6350-742c-b313-0e0f6b559300','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','42d19c2c-8d39-5031-8fd8-3c1e98743f2f','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5", "number": 3, "after": 2, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 12.0, "id": "42d19c2c-8d39-5031-8fd8-3c1e98743f2f", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6351-78a5-b8ed-9c9d6139b14a','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','ef737dd5-f184-5c34-91b1-17ceac7fcbcc','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5", "number": 4, "after": 3, "size": "3/4", "pipe_class": "pvc sdr 21", "length_ft": 12.0, "id": "ef737dd5-f184-5c34-91b1-17ceac7fcbcc", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6352-7546-a7ac-8fd7295d6998','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','10705dfe-ce24-5444-aeb3-2804c2f50bba','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5", "number": 5, "after": 4, "size": "3/4", "pipe_class": "pvc sdr 21", "length_ft": 12.0, "id": "10705dfe-ce24-5444-aeb3-2804c2f50bba", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6353-7a3e-8fcb-bba1fb0b698c','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','4a184cd3-9112-55d3-afb5-8d7838ff2ba8','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "a9345d6c-7f5c-5817-a137-771f16836668", "number": 1, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 20.0, "id": "4a184cd3-9112-55d3-afb5-8d7838ff2ba8", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6354-7d0b-829a-ae4da6eb18cd','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','ed60e139-4619-55e1-845d-e3d31dbff473','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "a9345d6c-7f5c-5817-a137-771f16836668", "number": 2, "after": 1, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 12.0, "id": "ed60e139-4619-55e1-845d-e3d31dbff473", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6355-71f8-b1b0-26cad0a85e71','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','c53079a7-3719-5038-86c6-a0843dd53797','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "a9345d6c-7f5c-5817-a137-771f16836668", "number": 3, "after": 2, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 12.0, "id": "c53079a7-3719-5038-86c6-a0843dd53797", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6356-7e27-b987-eb04df8a1171','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','7a76d2ad-dfd0-5eba-9dde-a267fe730a0e','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "a9345d6c-7f5c-5817-a137-771f16836668", "number": 4, "after": 3, "size": "3/4", "pipe_class": "pvc sdr 21", "length_ft": 12.0, "id": "7a76d2ad-dfd0-5eba-9dde-a267fe730a0e", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6357-7ce1-92db-5c50b3ad8a98','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','f7beb56e-167c-5af7-8f85-c0d04ac848bd','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "a9345d6c-7f5c-5817-a137-771f16836668", "number": 5, "after": 4, "size": "3/4", "pipe_class": "pvc sdr 21", "length_ft": 12.0, "id": "f7beb56e-167c-5af7-8f85-c0d04ac848bd", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6358-7eb0-a714-f6354a77e923','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','913c9f37-2939-5fe7-b1bb-130ccd23476c','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "f8159315-2b2b-5642-9202-e6ca4e097295", "number": 1, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 28.0, "id": "913c9f37-2939-5fe7-b1bb-130ccd23476c", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6359-7545-bc07-40926ed6ca53','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','f1dbfac9-04ee-5023-8415-334d50691655','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "f8159315-2b2b-5642-9202-e6ca4e097295", "number": 2, "after": 1, "size": "3/4", "pipe_class": "pvc sdr 21", "length_ft": 28.0, "id": "f1dbfac9-04ee-5023-8415-334d50691655", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-635a-752b-b360-c967dd87f0d4','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','325be423-9efe-572f-8a89-79c53d656703','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "f8159315-2b2b-5642-9202-e6ca4e097295", "number": 3, "after": 2, "size": "3/4", "pipe_class": "pvc sdr 21", "length_ft": 28.0, "id": "325be423-9efe-572f-8a89-79c53d656703", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-635b-747c-a0f1-567692e1649b','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','86f8336b-8920-53e5-867f-f188137a41b8','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "fd509818-25f0-5c63-b01d-e7c79a9237bc", "number": 1, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 9.0, "id": "86f8336b-8920-53e5-867f-f188137a41b8", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-635c-741a-8ca8-73b110bfb499','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','a8864c2f-bfab-599a-a064-2417aae34ffd','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "fd509818-25f0-5c63-b01d-e7c79a9237bc", "number": 2, "after": 1, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 9.0, "id": "a8864c2f-bfab-599a-a064-2417aae34ffd", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-635d-77fb-89c8-162adc94faeb','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','74d7c006-807e-55f7-bf42-ad15583f9c0f','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "fd509818-25f0-5c63-b01d-e7c79a9237bc", "number": 3, "after": 2, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 9.0, "id": "74d7c006-807e-55f7-bf42-ad15583f9c0f", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-635e-7ae9-bfc2-d463f7dcebdb','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','c5c5f60b-6efe-5933-a657-fcd40e695edf','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "fd509818-25f0-5c63-b01d-e7c79a9237bc", "number": 4, "after": 3, "size": "1", "pipe_class": "pvc sdr 21", "length_ft": 9.0, "id": "c5c5f60b-6efe-5933-a657-fcd40e695edf", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-635f-7155-9806-20378071a24e','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','038d396d-a457-5650-8ed5-e5211c325e2b','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "fd509818-25f0-5c63-b01d-e7c79a9237bc", "number": 5, "after": 4, "size": "3/4", "pipe_class": "pvc sdr 21", "length_ft": 9.0, "id": "038d396d-a457-5650-8ed5-e5211c325e2b", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6360-7567-9260-ba56184b8760','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','pipe_run','361ea4d2-bf37-54ec-91fd-4a2322e7c558','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "fd509818-25f0-5c63-b01d-e7c79a9237bc", "number": 6, "after": 5, "size": "3/4", "pipe_class": "pvc sdr 21", "length_ft": 9.0, "id": "361ea4d2-bf37-54ec-91fd-4a2322e7c558", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6361-721e-bfd2-13abc041e352','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','8c7c937d-a95f-57e3-b907-29559d5a813f','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "badf809a-f44e-5256-809d-976ca8878cc9", "kind": "spray", "nozzle_gpm": 1.3, "rated_psi": 30.0, "regulated_psi": 30.0, "min_psi": 20.0, "max_psi": 45.0, "arc_deg": 90.0, "radius_ft": 12.0, "id": "8c7c937d-a95f-57e3-b907-29559d5a813f", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6362-736c-8a28-6ce6867b277f','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','4956d75e-b27a-5988-a7f3-96e99b3b4baf','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "9a97c25e-9aa5-5ae6-ad61-e9aa4d744bef", "kind": "spray", "nozzle_gpm": 1.85, "rated_psi": 30.0, "regulated_psi": 30.0, "min_psi": 20.0, "max_psi": 45.0, "arc_deg": 180.0, "radius_ft": 12.0, "id": "4956d75e-b27a-5988-a7f3-96e99b3b4baf", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6363-75a7-9673-aafd40c0b51a','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','abc3c61c-ae93-5cb0-bb9a-b0305a04bc08','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "42d19c2c-8d39-5031-8fd8-3c1e98743f2f", "kind": "spray", "nozzle_gpm": 1.85, "rated_psi": 30.0, "regulated_psi": 30.0, "min_psi": 20.0, "max_psi": 45.0, "arc_deg": 180.0, "radius_ft": 12.0, "id": "abc3c61c-ae93-5cb0-bb9a-b0305a04bc08", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6364-7274-a184-d44dbc8bcff9','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','4afcd17b-0315-5592-a232-71266a161c82','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "ef737dd5-f184-5c34-91b1-17ceac7fcbcc", "kind": "spray", "nozzle_gpm": 1.85, "rated_psi": 30.0, "regulated_psi": 30.0, "min_psi": 20.0, "max_psi": 45.0, "arc_deg": 180.0, "radius_ft": 12.0, "id": "4afcd17b-0315-5592-a232-71266a161c82", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6365-7d1b-9eb5-457e8b706a09','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','b54888ff-a848-58ac-bffd-7dff06d4d9c1','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "10705dfe-ce24-5444-aeb3-2804c2f50bba", "kind": "spray", "nozzle_gpm": 1.3, "rated_psi": 30.0, "regulated_psi": 30.0, "min_psi": 20.0, "max_psi": 45.0, "arc_deg": 90.0, "radius_ft": 12.0, "id": "b54888ff-a848-58ac-bffd-7dff06d4d9c1", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6366-77b7-b8c9-a0c2767f39f4','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','7229dbf6-041e-5afa-a088-e6dc65c6de01','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "4a184cd3-9112-55d3-afb5-8d7838ff2ba8", "kind": "spray", "nozzle_gpm": 1.85, "rated_psi": 30.0, "regulated_psi": 30.0, "min_psi": 20.0, "max_psi": 45.0, "arc_deg": 180.0, "radius_ft": 12.0, "id": "7229dbf6-041e-5afa-a088-e6dc65c6de01", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6367-70f8-8849-903ba09b5669','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','9bc65af3-e53f-5327-92c9-4dd025ae58e4','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "ed60e139-4619-55e1-845d-e3d31dbff473", "kind": "spray", "nozzle_gpm": 1.85, "rated_psi": 30.0, "regulated_psi": 30.0, "min_psi": 20.0, "max_psi": 45.0, "arc_deg": 180.0, "radius_ft": 12.0, "id": "9bc65af3-e53f-5327-92c9-4dd025ae58e4", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6368-7d7c-99cc-5ff45f005b20','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','5cc5e72b-8221-51a7-b3c0-6a3b63a7e446','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "c53079a7-3719-5038-86c6-a0843dd53797", "kind": "spray", "nozzle_gpm": 1.85, "rated_psi": 30.0, "regulated_psi": 30.0, "min_psi": 20.0, "max_psi": 45.0, "arc_deg": 180.0, "radius_ft": 12.0, "id": "5cc5e72b-8221-51a7-b3c0-6a3b63a7e446", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6369-7b24-8090-7a631fcd3f88','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','db8d0749-c0f7-5207-8fb0-22afeacd550a','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "7a76d2ad-dfd0-5eba-9dde-a267fe730a0e", "kind": "spray", "nozzle_gpm": 1.85, "rated_psi": 30.0, "regulated_psi": 30.0, "min_psi": 20.0, "max_psi": 45.0, "arc_deg": 180.0, "radius_ft": 12.0, "id": "db8d0749-c0f7-5207-8fb0-22afeacd550a", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-636a-7f47-9e3f-f42310c31106','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','7572c5f6-bbba-5b35-83c9-09d288d31798','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "f7beb56e-167c-5af7-8f85-c0d04ac848bd", "kind": "spray", "nozzle_gpm": 1.85, "rated_psi": 30.0, "regulated_psi": 30.0, "min_psi": 20.0, "max_psi": 45.0, "arc_deg": 180.0, "radius_ft": 12.0, "id": "7572c5f6-bbba-5b35-83c9-09d288d31798", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-636b-7042-a545-00162ce3e61c','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','501cfa2a-dbf1-5233-9117-ecfe732161db','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "913c9f37-2939-5fe7-b1bb-130ccd23476c", "kind": "rotor", "nozzle_gpm": 2.5, "rated_psi": 45.0, "regulated_psi": 45.0, "min_psi": 30.0, "max_psi": 60.0, "arc_deg": 180.0, "radius_ft": 30.0, "id": "501cfa2a-dbf1-5233-9117-ecfe732161db", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-636c-755d-a791-07d9f55a219b','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','e6f41d48-6984-52e9-8bdc-1a7713800d52','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "f1dbfac9-04ee-5023-8415-334d50691655", "kind": "rotor", "nozzle_gpm": 2.5, "rated_psi": 45.0, "regulated_psi": 45.0, "min_psi": 30.0, "max_psi": 60.0, "arc_deg": 180.0, "radius_ft": 30.0, "id": "e6f41d48-6984-52e9-8bdc-1a7713800d52", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-636d-753d-869f-750e947eec46','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','8d2349fc-c26f-5e49-8eb7-c8034ce2e546','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "325be423-9efe-572f-8a89-79c53d656703", "kind": "rotor", "nozzle_gpm": 1.3, "rated_psi": 45.0, "regulated_psi": 45.0, "min_psi": 30.0, "max_psi": 60.0, "arc_deg": 90.0, "radius_ft": 30.0, "id": "8d2349fc-c26f-5e49-8eb7-c8034ce2e546", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-636e-7556-9449-f78fd465361f','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','edec8e35-4567-52ca-b50a-aa5480cb1681','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "86f8336b-8920-53e5-867f-f188137a41b8", "kind": "spray", "nozzle_gpm": 0.9, "rated_psi": 30.0, "regulated_psi": 30.0, "min_psi": 20.0, "max_psi": 45.0, "arc_deg": 90.0, "radius_ft": 10.0, "id": "edec8e35-4567-52ca-b50a-aa5480cb1681", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-636f-7613-aa9d-c12825899d11','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','41f9489a-5946-568c-b5fe-c8e8ecb72bc7','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "a8864c2f-bfab-599a-a064-2417aae34ffd", "kind": "spray", "nozzle_gpm": 0.9, "rated_psi": 30.0, "regulated_psi": 30.0, "min_psi": 20.0, "max_psi": 45.0, "arc_deg": 90.0, "radius_ft": 10.0, "id": "41f9489a-5946-568c-b5fe-c8e8ecb72bc7", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6370-72f4-a705-d85b4cb15f95','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','944d12e2-8c40-50d1-b7d0-e99e44303994','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "74d7c006-807e-55f7-bf42-ad15583f9c0f", "kind": "spray", "nozzle_gpm": 0.9, "rated_psi": 30.0, "regulated_psi": 30.0, "min_psi": 20.0, "max_psi": 45.0, "arc_deg": 90.0, "radius_ft": 10.0, "id": "944d12e2-8c40-50d1-b7d0-e99e44303994", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6371-7765-b998-21e578767cd2','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','a7e40393-3570-51c9-90b6-9663ac74617f','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "c5c5f60b-6efe-5933-a657-fcd40e695edf", "kind": "spray", "nozzle_gpm": 0.9, "rated_psi": 30.0, "regulated_psi": 30.0, "min_psi": 20.0, "max_psi": 45.0, "arc_deg": 90.0, "radius_ft": 10.0, "id": "a7e40393-3570-51c9-90b6-9663ac74617f", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6372-7460-bc83-df68ecaee7d7','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','cafc03c2-3f8d-560a-b33c-78311b176bdc','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "038d396d-a457-5650-8ed5-e5211c325e2b", "kind": "spray", "nozzle_gpm": 0.9, "rated_psi": 30.0, "regulated_psi": 30.0, "min_psi": 20.0, "max_psi": 45.0, "arc_deg": 90.0, "radius_ft": 10.0, "id": "cafc03c2-3f8d-560a-b33c-78311b176bdc", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6373-752c-83fc-80058ffa550e','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','head','b1682111-28b8-57b2-a001-0a437a841bf7','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "run_id": "361ea4d2-bf37-54ec-91fd-4a2322e7c558", "kind": "spray", "nozzle_gpm": 0.9, "rated_psi": 30.0, "regulated_psi": 30.0, "min_psi": 20.0, "max_psi": 45.0, "arc_deg": 90.0, "radius_ft": 10.0, "id": "b1682111-28b8-57b2-a001-0a437a841bf7", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6374-7918-b6dc-9716d8224059','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','valve_box','cca10681-7797-5864-8a82-d2351e21bcdc','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "name": "A", "location": "3 ft off the drive, 9 ft from the garage corner", "on_base": true, "id": "cca10681-7797-5864-8a82-d2351e21bcdc", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6375-7e0b-9407-4558aabcc76b','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','valve_box','7d881e0f-cd50-5a9f-8222-a045664c2a0c','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "name": "B", "location": "by the back step, 4 ft from the wall", "on_base": true, "id": "7d881e0f-cd50-5a9f-8222-a045664c2a0c", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6376-7ee5-b18e-899e13bb09a4','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','cable','c03ae3f2-299b-5e82-a450-ac49b601b489','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "name": "1", "gauge_awg": "18", "common_colour": "white", "common_waterproof": true, "id": "c03ae3f2-299b-5e82-a450-ac49b601b489", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6377-7f0c-b90e-2e1440b8a4dc','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','conductor','c3221be7-ef37-5513-9404-93a119086011','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "cable_id": "c03ae3f2-299b-5e82-a450-ac49b601b489", "position": 1, "colour": "white", "id": "c3221be7-ef37-5513-9404-93a119086011", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6378-7656-959f-32c6ad7a92f7','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','conductor','751e3387-61ef-5181-823b-d6bcb07405e4','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "cable_id": "c03ae3f2-299b-5e82-a450-ac49b601b489", "position": 2, "colour": "red", "id": "751e3387-61ef-5181-823b-d6bcb07405e4", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6379-7e23-b7c9-24ca196eefff','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','conductor','124bc9f7-2cd1-538c-807d-8ae0b8378d52','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "cable_id": "c03ae3f2-299b-5e82-a450-ac49b601b489", "position": 3, "colour": "blue", "id": "124bc9f7-2cd1-538c-807d-8ae0b8378d52", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-637a-7e7e-abcc-2f233cd39fe0','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','conductor','ce4c126a-fc34-54cf-8c3a-194aae2b3cd5','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "cable_id": "c03ae3f2-299b-5e82-a450-ac49b601b489", "position": 4, "colour": "green", "id": "ce4c126a-fc34-54cf-8c3a-194aae2b3cd5", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-637b-7f8a-9cad-69bfbf2e7693','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','conductor','502184ed-f458-5923-830c-b8a04e35f067','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "cable_id": "c03ae3f2-299b-5e82-a450-ac49b601b489", "position": 5, "colour": "yellow", "id": "502184ed-f458-5923-830c-b8a04e35f067", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-637c-7e49-8b9a-2bd03066f5d5','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','conductor','6c21b3f8-e557-576c-a0fd-fda5678dbe7b','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "cable_id": "c03ae3f2-299b-5e82-a450-ac49b601b489", "position": 6, "colour": "orange", "kept": true, "id": "6c21b3f8-e557-576c-a0fd-fda5678dbe7b", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-637d-737b-8c03-42d799545817','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','conductor','4f9f72c2-3357-57d0-ae58-f137a8810dd6','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "cable_id": "c03ae3f2-299b-5e82-a450-ac49b601b489", "position": 7, "colour": "black", "kept": true, "id": "4f9f72c2-3357-57d0-ae58-f137a8810dd6", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-637e-730b-b305-914ad5701f72','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','valve','bb3832bb-e5ad-5408-8353-09a92e207e47','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "kind": "zone", "zone_id": "7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5", "box_id": "cca10681-7797-5864-8a82-d2351e21bcdc", "cable_id": "c03ae3f2-299b-5e82-a450-ac49b601b489", "colour": "red", "splice_waterproof": true, "coil_ohm": 28.4, "id": "bb3832bb-e5ad-5408-8353-09a92e207e47", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804", "filter_curve": ""}');
INSERT INTO "entry" VALUES('01a214e2-637f-74df-b22b-e2a05a423a7f','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','valve','99772929-e55b-564c-971b-487ef30481f5','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "kind": "zone", "zone_id": "a9345d6c-7f5c-5817-a137-771f16836668", "box_id": "cca10681-7797-5864-8a82-d2351e21bcdc", "cable_id": "c03ae3f2-299b-5e82-a450-ac49b601b489", "colour": "blue", "splice_waterproof": true, "coil_ohm": 28.9, "id": "99772929-e55b-564c-971b-487ef30481f5", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804", "filter_curve": ""}');
INSERT INTO "entry" VALUES('01a214e2-6380-7427-9e12-a11182e351a8','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','valve','667078be-79f6-5ed9-b79b-7c7ded5309e7','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "kind": "zone", "zone_id": "f8159315-2b2b-5642-9202-e6ca4e097295", "box_id": "7d881e0f-cd50-5a9f-8222-a045664c2a0c", "cable_id": "c03ae3f2-299b-5e82-a450-ac49b601b489", "colour": "green", "splice_waterproof": true, "coil_ohm": 29.6, "id": "667078be-79f6-5ed9-b79b-7c7ded5309e7", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804", "filter_curve": ""}');
INSERT INTO "entry" VALUES('01a214e2-6381-7f9e-bc39-cbf992a775c9','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','valve','9119cfcf-625f-5a76-a97b-94f441c87da6','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "kind": "zone", "zone_id": "fd509818-25f0-5c63-b01d-e7c79a9237bc", "box_id": "7d881e0f-cd50-5a9f-8222-a045664c2a0c", "cable_id": "c03ae3f2-299b-5e82-a450-ac49b601b489", "colour": "yellow", "splice_waterproof": true, "coil_ohm": 29.4, "id": "9119cfcf-625f-5a76-a97b-94f441c87da6", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804", "filter_curve": ""}');
INSERT INTO "entry" VALUES('01a214e2-6382-7791-90e1-84f267d21f74','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','controller','bfb3a2f1-31ab-5a41-a659-137199e0a568','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "location": "garage, beside the side door", "stations": 4, "outdoors": false, "supply_near": true, "wire_in_conduit": true, "rain_sensor": true, "id": "bfb3a2f1-31ab-5a41-a659-137199e0a568", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6383-7ab7-aee2-1054dc116efe','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','terminal','ae32dec6-f1b6-5a7c-baff-49f1baa8ff20','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "role": "common", "cable_id": "c03ae3f2-299b-5e82-a450-ac49b601b489", "colour": "white", "id": "ae32dec6-f1b6-5a7c-baff-49f1baa8ff20", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6384-74ba-b419-5484585488b8','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','terminal','4bd9c61f-6295-53a8-a8de-093aee0734ef','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "role": "zone", "number": 1, "cable_id": "c03ae3f2-299b-5e82-a450-ac49b601b489", "colour": "red", "id": "4bd9c61f-6295-53a8-a8de-093aee0734ef", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6385-7ee0-8d53-83ea1474969d','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','terminal','52eec071-82f1-5e44-b83a-b24bb09a3a7d','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "role": "zone", "number": 2, "cable_id": "c03ae3f2-299b-5e82-a450-ac49b601b489", "colour": "blue", "id": "52eec071-82f1-5e44-b83a-b24bb09a3a7d", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6386-72b1-b315-7121c55abe11','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','terminal','2a7bdb61-2af3-51c5-a7a8-8eca8ce0ea21','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "role": "zone", "number": 3, "cable_id": "c03ae3f2-299b-5e82-a450-ac49b601b489", "colour": "green", "id": "2a7bdb61-2af3-51c5-a7a8-8eca8ce0ea21", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6387-72ac-92af-2bee7cda9499','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','terminal','d0741305-c687-57c8-958b-d6da5acf9050','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "role": "zone", "number": 4, "cable_id": "c03ae3f2-299b-5e82-a450-ac49b601b489", "colour": "yellow", "id": "d0741305-c687-57c8-958b-d6da5acf9050", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6388-726b-9abe-f4807750c64d','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','flush','9e9aaaf8-7c90-5aa6-85d0-055a4f237309','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5", "main_valve_on": true, "tops_off": true, "bleed_open": true, "ran_clear": true, "bleed_closed": true, "tops_back": true, "id": "9e9aaaf8-7c90-5aa6-85d0-055a4f237309", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6389-74f6-85b0-4bd4c17a6993','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','flush','fa400639-d200-5018-9cbe-aac26ce5d58f','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "a9345d6c-7f5c-5817-a137-771f16836668", "main_valve_on": true, "tops_off": true, "bleed_open": true, "ran_clear": true, "bleed_closed": true, "tops_back": true, "id": "fa400639-d200-5018-9cbe-aac26ce5d58f", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-638a-7fe5-8843-7d4bca072703','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','flush','2a2b2315-f91c-565e-9c56-462252861cc4','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "f8159315-2b2b-5642-9202-e6ca4e097295", "main_valve_on": true, "tops_off": true, "bleed_open": true, "ran_clear": true, "bleed_closed": true, "tops_back": true, "id": "2a2b2315-f91c-565e-9c56-462252861cc4", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-638b-723e-b4e4-6c04e3643f6d','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','flush','e4418ff3-1465-58aa-90cd-9c010ff7ce33','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "fd509818-25f0-5c63-b01d-e7c79a9237bc", "main_valve_on": true, "tops_off": true, "bleed_open": true, "ran_clear": true, "bleed_closed": true, "tops_back": true, "id": "e4418ff3-1465-58aa-90cd-9c010ff7ce33", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-638c-7361-85e1-febf2d15e598','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','backfill','dcb018a3-24f4-5316-908c-0d10f2637b2c','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "cover_in": 14.0, "rock_free": true, "signed_by": "MO", "signed_at": "2026-05-06T15:10:00-05:00", "id": "dcb018a3-24f4-5316-908c-0d10f2637b2c", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-638d-746e-9349-a461e109e99b','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','backfill','e0b20571-9551-5572-a21d-c799091931e1','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5", "cover_in": 9.0, "rock_free": true, "heads_plumb": true, "heads_at_grade": true, "signed_by": "MO", "signed_at": "2026-05-06T15:15:00-05:00", "id": "e0b20571-9551-5572-a21d-c799091931e1", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-638e-74d3-9e97-4303acf42ece','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','backfill','9ed64b42-2a7d-53ff-bc24-e0d825a9a598','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "a9345d6c-7f5c-5817-a137-771f16836668", "cover_in": 9.0, "rock_free": true, "heads_plumb": true, "heads_at_grade": true, "signed_by": "MO", "signed_at": "2026-05-06T15:20:00-05:00", "id": "9ed64b42-2a7d-53ff-bc24-e0d825a9a598", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-638f-7354-aaf1-71c0fc6fc178','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','backfill','60d074fb-af53-51c5-911e-4fa1a52c30a3','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "f8159315-2b2b-5642-9202-e6ca4e097295", "cover_in": 9.0, "rock_free": true, "heads_plumb": true, "heads_at_grade": true, "signed_by": "MO", "signed_at": "2026-05-06T15:25:00-05:00", "id": "60d074fb-af53-51c5-911e-4fa1a52c30a3", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6390-7fe0-a3a1-fa2fe896e0b7','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','backfill','2a4ba391-e01a-5424-b597-099df63078b2','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "zone_id": "fd509818-25f0-5c63-b01d-e7c79a9237bc", "cover_in": 9.0, "rock_free": true, "heads_plumb": true, "heads_at_grade": true, "signed_by": "MO", "signed_at": "2026-05-06T15:30:00-05:00", "id": "2a4ba391-e01a-5424-b597-099df63078b2", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
INSERT INTO "entry" VALUES('01a214e2-6391-78df-a24c-f9a5109795b6','01a214e2-6342-7771-8dac-1cdb8a5770ea','do','','property 14 Alder Lane imported','72d403ca-149d-5110-bfe7-a1397e2c8804','AB','2026-11-25T22:45:10+00:00','note','ad916780-2053-5f18-b37c-5464149e7d13','','null','{"entered_by": "MO", "entered_at": "2026-05-06T16:40:00-05:00", "place": "desk", "text": "Sound and complete: nothing is wrong on this property.", "id": "ad916780-2053-5f18-b37c-5464149e7d13", "job_id": "72d403ca-149d-5110-bfe7-a1397e2c8804"}');
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
INSERT INTO "flow_test_point" VALUES('36ad29d0-2b55-55a3-9b4b-f155a05ab56d','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00',52.0,14.0,NULL,NULL);
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
INSERT INTO "flush" VALUES('9e9aaaf8-7c90-5aa6-85d0-055a4f237309','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5',1,1,1,1,1,1);
INSERT INTO "flush" VALUES('fa400639-d200-5018-9cbe-aac26ce5d58f','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','a9345d6c-7f5c-5817-a137-771f16836668',1,1,1,1,1,1);
INSERT INTO "flush" VALUES('2a2b2315-f91c-565e-9c56-462252861cc4','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','f8159315-2b2b-5642-9202-e6ca4e097295',1,1,1,1,1,1);
INSERT INTO "flush" VALUES('e4418ff3-1465-58aa-90cd-9c010ff7ce33','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','fd509818-25f0-5c63-b01d-e7c79a9237bc',1,1,1,1,1,1);
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
INSERT INTO "head" VALUES('8c7c937d-a95f-57e3-b907-29559d5a813f','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','badf809a-f44e-5256-809d-976ca8878cc9','spray',1.3,30.0,30.0,20.0,45.0,90.0,12.0,NULL);
INSERT INTO "head" VALUES('4956d75e-b27a-5988-a7f3-96e99b3b4baf','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','9a97c25e-9aa5-5ae6-ad61-e9aa4d744bef','spray',1.85,30.0,30.0,20.0,45.0,180.0,12.0,NULL);
INSERT INTO "head" VALUES('abc3c61c-ae93-5cb0-bb9a-b0305a04bc08','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','42d19c2c-8d39-5031-8fd8-3c1e98743f2f','spray',1.85,30.0,30.0,20.0,45.0,180.0,12.0,NULL);
INSERT INTO "head" VALUES('4afcd17b-0315-5592-a232-71266a161c82','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','ef737dd5-f184-5c34-91b1-17ceac7fcbcc','spray',1.85,30.0,30.0,20.0,45.0,180.0,12.0,NULL);
INSERT INTO "head" VALUES('b54888ff-a848-58ac-bffd-7dff06d4d9c1','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','10705dfe-ce24-5444-aeb3-2804c2f50bba','spray',1.3,30.0,30.0,20.0,45.0,90.0,12.0,NULL);
INSERT INTO "head" VALUES('7229dbf6-041e-5afa-a088-e6dc65c6de01','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','4a184cd3-9112-55d3-afb5-8d7838ff2ba8','spray',1.85,30.0,30.0,20.0,45.0,180.0,12.0,NULL);
INSERT INTO "head" VALUES('9bc65af3-e53f-5327-92c9-4dd025ae58e4','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','ed60e139-4619-55e1-845d-e3d31dbff473','spray',1.85,30.0,30.0,20.0,45.0,180.0,12.0,NULL);
INSERT INTO "head" VALUES('5cc5e72b-8221-51a7-b3c0-6a3b63a7e446','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','c53079a7-3719-5038-86c6-a0843dd53797','spray',1.85,30.0,30.0,20.0,45.0,180.0,12.0,NULL);
INSERT INTO "head" VALUES('db8d0749-c0f7-5207-8fb0-22afeacd550a','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','7a76d2ad-dfd0-5eba-9dde-a267fe730a0e','spray',1.85,30.0,30.0,20.0,45.0,180.0,12.0,NULL);
INSERT INTO "head" VALUES('7572c5f6-bbba-5b35-83c9-09d288d31798','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','f7beb56e-167c-5af7-8f85-c0d04ac848bd','spray',1.85,30.0,30.0,20.0,45.0,180.0,12.0,NULL);
INSERT INTO "head" VALUES('501cfa2a-dbf1-5233-9117-ecfe732161db','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','913c9f37-2939-5fe7-b1bb-130ccd23476c','rotor',2.5,45.0,45.0,30.0,60.0,180.0,30.0,NULL);
INSERT INTO "head" VALUES('e6f41d48-6984-52e9-8bdc-1a7713800d52','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','f1dbfac9-04ee-5023-8415-334d50691655','rotor',2.5,45.0,45.0,30.0,60.0,180.0,30.0,NULL);
INSERT INTO "head" VALUES('8d2349fc-c26f-5e49-8eb7-c8034ce2e546','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','325be423-9efe-572f-8a89-79c53d656703','rotor',1.3,45.0,45.0,30.0,60.0,90.0,30.0,NULL);
INSERT INTO "head" VALUES('edec8e35-4567-52ca-b50a-aa5480cb1681','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','86f8336b-8920-53e5-867f-f188137a41b8','spray',0.9,30.0,30.0,20.0,45.0,90.0,10.0,NULL);
INSERT INTO "head" VALUES('41f9489a-5946-568c-b5fe-c8e8ecb72bc7','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','a8864c2f-bfab-599a-a064-2417aae34ffd','spray',0.9,30.0,30.0,20.0,45.0,90.0,10.0,NULL);
INSERT INTO "head" VALUES('944d12e2-8c40-50d1-b7d0-e99e44303994','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','74d7c006-807e-55f7-bf42-ad15583f9c0f','spray',0.9,30.0,30.0,20.0,45.0,90.0,10.0,NULL);
INSERT INTO "head" VALUES('a7e40393-3570-51c9-90b6-9663ac74617f','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','c5c5f60b-6efe-5933-a657-fcd40e695edf','spray',0.9,30.0,30.0,20.0,45.0,90.0,10.0,NULL);
INSERT INTO "head" VALUES('cafc03c2-3f8d-560a-b33c-78311b176bdc','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','038d396d-a457-5650-8ed5-e5211c325e2b','spray',0.9,30.0,30.0,20.0,45.0,90.0,10.0,NULL);
INSERT INTO "head" VALUES('b1682111-28b8-57b2-a001-0a437a841bf7','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','361ea4d2-bf37-54ec-91fd-4a2322e7c558','spray',0.9,30.0,30.0,20.0,45.0,90.0,10.0,NULL);
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
INSERT INTO "job" VALUES('72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','14 Alder Lane','R. Okonjo','555-0142','side gate, latch sticks; dog in the house','us');
CREATE TABLE laptop (
	id VARCHAR NOT NULL, 
	person_id VARCHAR NOT NULL, 
	since VARCHAR NOT NULL, 
	look VARCHAR NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(person_id) REFERENCES person (id)
);
INSERT INTO "laptop" VALUES('01a214e2-633c-763c-8d3b-30e47ea42ca8','01a214e2-632e-75ff-b1de-6ddb436bf163','2026-11-25T22:45:10+00:00','');
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
INSERT INTO "local_rules" VALUES('284f388f-f9e0-59cb-9f62-f88a19581c99','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00',12.0,'town plumbing code, chapter on lawn irrigation',NULL,NULL,'',1,'town water ordinance');
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
INSERT INTO "note" VALUES('ad916780-2053-5f18-b37c-5464149e7d13','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','desk','Sound and complete: nothing is wrong on this property.');
CREATE TABLE person (
	id VARCHAR NOT NULL, 
	initials VARCHAR NOT NULL, 
	entered_at VARCHAR NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "person" VALUES('01a214e2-632e-75ff-b1de-6ddb436bf163','AB','2026-11-25T22:45:10+00:00');
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
INSERT INTO "pipe_run" VALUES('41c2e4a5-82a0-508f-8ed1-8b7eb1565a82','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00',NULL,1,NULL,'1-1/4','pvc sch 40',45.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('a0062a48-f888-5eda-8762-71c19f3bce37','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00',NULL,2,1,'1-1/4','pvc sch 40',30.0,1.0,NULL,NULL);
INSERT INTO "pipe_run" VALUES('badf809a-f44e-5256-809d-976ca8878cc9','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5',1,NULL,'1','pvc sdr 21',12.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('9a97c25e-9aa5-5ae6-ad61-e9aa4d744bef','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5',2,1,'1','pvc sdr 21',12.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('42d19c2c-8d39-5031-8fd8-3c1e98743f2f','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5',3,2,'1','pvc sdr 21',12.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('ef737dd5-f184-5c34-91b1-17ceac7fcbcc','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5',4,3,'3/4','pvc sdr 21',12.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('10705dfe-ce24-5444-aeb3-2804c2f50bba','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5',5,4,'3/4','pvc sdr 21',12.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('4a184cd3-9112-55d3-afb5-8d7838ff2ba8','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','a9345d6c-7f5c-5817-a137-771f16836668',1,NULL,'1','pvc sdr 21',20.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('ed60e139-4619-55e1-845d-e3d31dbff473','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','a9345d6c-7f5c-5817-a137-771f16836668',2,1,'1','pvc sdr 21',12.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('c53079a7-3719-5038-86c6-a0843dd53797','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','a9345d6c-7f5c-5817-a137-771f16836668',3,2,'1','pvc sdr 21',12.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('7a76d2ad-dfd0-5eba-9dde-a267fe730a0e','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','a9345d6c-7f5c-5817-a137-771f16836668',4,3,'3/4','pvc sdr 21',12.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('f7beb56e-167c-5af7-8f85-c0d04ac848bd','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','a9345d6c-7f5c-5817-a137-771f16836668',5,4,'3/4','pvc sdr 21',12.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('913c9f37-2939-5fe7-b1bb-130ccd23476c','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','f8159315-2b2b-5642-9202-e6ca4e097295',1,NULL,'1','pvc sdr 21',28.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('f1dbfac9-04ee-5023-8415-334d50691655','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','f8159315-2b2b-5642-9202-e6ca4e097295',2,1,'3/4','pvc sdr 21',28.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('325be423-9efe-572f-8a89-79c53d656703','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','f8159315-2b2b-5642-9202-e6ca4e097295',3,2,'3/4','pvc sdr 21',28.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('86f8336b-8920-53e5-867f-f188137a41b8','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','fd509818-25f0-5c63-b01d-e7c79a9237bc',1,NULL,'1','pvc sdr 21',9.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('a8864c2f-bfab-599a-a064-2417aae34ffd','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','fd509818-25f0-5c63-b01d-e7c79a9237bc',2,1,'1','pvc sdr 21',9.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('74d7c006-807e-55f7-bf42-ad15583f9c0f','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','fd509818-25f0-5c63-b01d-e7c79a9237bc',3,2,'1','pvc sdr 21',9.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('c5c5f60b-6efe-5933-a657-fcd40e695edf','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','fd509818-25f0-5c63-b01d-e7c79a9237bc',4,3,'1','pvc sdr 21',9.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('038d396d-a457-5650-8ed5-e5211c325e2b','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','fd509818-25f0-5c63-b01d-e7c79a9237bc',5,4,'3/4','pvc sdr 21',9.0,NULL,NULL,NULL);
INSERT INTO "pipe_run" VALUES('361ea4d2-bf37-54ec-91fd-4a2322e7c558','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','fd509818-25f0-5c63-b01d-e7c79a9237bc',6,5,'3/4','pvc sdr 21',9.0,NULL,NULL,NULL);
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
	friction_law VARCHAR, 
	water_deg_f INTEGER, 
	PRIMARY KEY (id), 
	FOREIGN KEY(job_id) REFERENCES job (id)
);
INSERT INTO "supply" VALUES('3dd02a94-efab-51fb-9466-d15c75354f6d','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00',64.0,'hose tap at the garage, 6 in the morning','1',NULL,'copper L','1-1/4',55.0,0.0,NULL,NULL);
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
INSERT INTO "terminal" VALUES('ae32dec6-f1b6-5a7c-baff-49f1baa8ff20','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','common',NULL,NULL,'c03ae3f2-299b-5e82-a450-ac49b601b489','white',NULL,NULL,NULL,NULL,NULL);
INSERT INTO "terminal" VALUES('4bd9c61f-6295-53a8-a8de-093aee0734ef','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','zone',1,NULL,'c03ae3f2-299b-5e82-a450-ac49b601b489','red',NULL,NULL,NULL,NULL,NULL);
INSERT INTO "terminal" VALUES('52eec071-82f1-5e44-b83a-b24bb09a3a7d','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','zone',2,NULL,'c03ae3f2-299b-5e82-a450-ac49b601b489','blue',NULL,NULL,NULL,NULL,NULL);
INSERT INTO "terminal" VALUES('2a7bdb61-2af3-51c5-a7a8-8eca8ce0ea21','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','zone',3,NULL,'c03ae3f2-299b-5e82-a450-ac49b601b489','green',NULL,NULL,NULL,NULL,NULL);
INSERT INTO "terminal" VALUES('d0741305-c687-57c8-958b-d6da5acf9050','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','zone',4,NULL,'c03ae3f2-299b-5e82-a450-ac49b601b489','yellow',NULL,NULL,NULL,NULL,NULL);
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
INSERT INTO "valve" VALUES('bb3832bb-e5ad-5408-8353-09a92e207e47','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5','zone','cca10681-7797-5864-8a82-d2351e21bcdc','c03ae3f2-299b-5e82-a450-ac49b601b489','red',1,NULL,NULL,NULL,NULL,NULL,28.4,NULL,NULL,NULL,'',NULL);
INSERT INTO "valve" VALUES('99772929-e55b-564c-971b-487ef30481f5','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','a9345d6c-7f5c-5817-a137-771f16836668','zone','cca10681-7797-5864-8a82-d2351e21bcdc','c03ae3f2-299b-5e82-a450-ac49b601b489','blue',1,NULL,NULL,NULL,NULL,NULL,28.9,NULL,NULL,NULL,'',NULL);
INSERT INTO "valve" VALUES('667078be-79f6-5ed9-b79b-7c7ded5309e7','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','f8159315-2b2b-5642-9202-e6ca4e097295','zone','7d881e0f-cd50-5a9f-8222-a045664c2a0c','c03ae3f2-299b-5e82-a450-ac49b601b489','green',1,NULL,NULL,NULL,NULL,NULL,29.6,NULL,NULL,NULL,'',NULL);
INSERT INTO "valve" VALUES('9119cfcf-625f-5a76-a97b-94f441c87da6','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','fd509818-25f0-5c63-b01d-e7c79a9237bc','zone','7d881e0f-cd50-5a9f-8222-a045664c2a0c','c03ae3f2-299b-5e82-a450-ac49b601b489','yellow',1,NULL,NULL,NULL,NULL,NULL,29.4,NULL,NULL,NULL,'',NULL);
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
INSERT INTO "valve_box" VALUES('cca10681-7797-5864-8a82-d2351e21bcdc','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','A','3 ft off the drive, 9 ft from the garage corner',1,NULL);
INSERT INTO "valve_box" VALUES('7d881e0f-cd50-5a9f-8222-a045664c2a0c','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00','B','by the back step, 4 ft from the wall',1,NULL);
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
INSERT INTO "zone" VALUES('7aaf3fea-6b4d-56ac-92fd-bce6397c9cc5','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00',1,'front lawn','lawn','spray',NULL,NULL,NULL,NULL);
INSERT INTO "zone" VALUES('a9345d6c-7f5c-5817-a137-771f16836668','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00',2,'side strip','lawn','spray',NULL,NULL,NULL,NULL);
INSERT INTO "zone" VALUES('f8159315-2b2b-5642-9202-e6ca4e097295','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00',3,'back lawn','lawn','rotor',NULL,NULL,NULL,NULL);
INSERT INTO "zone" VALUES('fd509818-25f0-5c63-b01d-e7c79a9237bc','72d403ca-149d-5110-bfe7-a1397e2c8804','MO','2026-05-06T16:40:00-05:00',4,'rose beds','beds','spray',NULL,NULL,NULL,NULL);
CREATE INDEX ix_entry_row_id ON entry (row_id);
CREATE INDEX ix_entry_group_id ON entry (group_id);
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
CREATE INDEX ix_splice_job_id ON splice (job_id);
CREATE INDEX ix_valve_job_id ON valve (job_id);
CREATE INDEX ix_zone_job_id ON zone (job_id);
CREATE INDEX ix_head_job_id ON head (job_id);
COMMIT;
