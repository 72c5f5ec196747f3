BEGIN TRANSACTION;
CREATE TABLE access_window (
	id INTEGER NOT NULL, 
	site_id INTEGER NOT NULL, 
	weekdays TEXT NOT NULL, 
	starts_minute INTEGER NOT NULL, 
	ends_minute INTEGER NOT NULL, 
	permits TEXT NOT NULL, 
	from_on DATE, 
	to_on DATE, 
	CONSTRAINT pk_access_window PRIMARY KEY (id), 
	CONSTRAINT uq_access_window_site_id_weekdays_starts_minute_from_on UNIQUE (site_id, weekdays, starts_minute, from_on), 
	CONSTRAINT ck_access_window_starts_minute CHECK (starts_minute BETWEEN 0 AND 1439), 
	CONSTRAINT ck_access_window_ends_minute CHECK (ends_minute BETWEEN 0 AND 1440), 
	CONSTRAINT ck_access_window_order CHECK (from_on <= to_on), 
	CONSTRAINT fk_access_window_site_id_site FOREIGN KEY(site_id) REFERENCES site (id)
);
INSERT INTO "access_window" VALUES(1,1,'0,1,2,3,4',1320,360,'loud,wet',NULL,NULL);
INSERT INTO "access_window" VALUES(2,2,'0,1,2,3,4',1320,360,'loud,wet',NULL,NULL);
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0001');
CREATE TABLE area (
	id INTEGER NOT NULL, 
	site_id INTEGER NOT NULL, 
	code TEXT NOT NULL, 
	name TEXT NOT NULL, 
	CONSTRAINT pk_area PRIMARY KEY (id), 
	CONSTRAINT uq_area_site_id_code UNIQUE (site_id, code), 
	CONSTRAINT fk_area_site_id_site FOREIGN KEY(site_id) REFERENCES site (id)
);
INSERT INTO "area" VALUES(1,1,'HALL','Hall');
INSERT INTO "area" VALUES(2,2,'HALL','Hall');
CREATE TABLE branch (
	id INTEGER NOT NULL, 
	code TEXT NOT NULL, 
	name TEXT NOT NULL, 
	time_zone TEXT NOT NULL, 
	country TEXT NOT NULL, 
	region TEXT NOT NULL, 
	latitude FLOAT, 
	longitude FLOAT, 
	crews INTEGER NOT NULL, 
	crew_size INTEGER NOT NULL, 
	shift_minutes INTEGER NOT NULL, 
	weekdays TEXT NOT NULL, 
	reserve_share FLOAT NOT NULL, 
	units TEXT NOT NULL, 
	currency TEXT NOT NULL, 
	revision INTEGER NOT NULL, 
	revised_at DATETIME NOT NULL, 
	revised_by TEXT NOT NULL, 
	CONSTRAINT pk_branch PRIMARY KEY (id), 
	CONSTRAINT uq_branch_code UNIQUE (code), 
	CONSTRAINT ck_branch_crews CHECK (crews BETWEEN 0 AND 500), 
	CONSTRAINT ck_branch_crew_size CHECK (crew_size BETWEEN 1 AND 50), 
	CONSTRAINT ck_branch_shift_minutes CHECK (shift_minutes BETWEEN 30 AND 960), 
	CONSTRAINT ck_branch_reserve_share CHECK (reserve_share BETWEEN 0 AND 0.9), 
	CONSTRAINT ck_branch_units CHECK (units IN ('metric', 'US'))
);
INSERT INTO "branch" VALUES(1,'EAST','East','Europe/Berlin','','',NULL,NULL,1,2,480,'0,1,2,3,4',0.12,'metric','USD',2,'2026-03-09 14:02:00.000000','kim');
INSERT INTO "branch" VALUES(2,'WEST','West','America/Chicago','','',NULL,NULL,1,2,480,'0,1,2,3,4',0.12,'US','USD',2,'2026-03-09 14:02:00.000000','kim');
CREATE TABLE customer (
	id INTEGER NOT NULL, 
	code TEXT NOT NULL, 
	name TEXT NOT NULL, 
	CONSTRAINT pk_customer PRIMARY KEY (id), 
	CONSTRAINT uq_customer_code UNIQUE (code)
);
INSERT INTO "customer" VALUES(1,'MARKET','The Market Halls');
CREATE TABLE due (
	id INTEGER NOT NULL, 
	plan_id INTEGER NOT NULL, 
	site_id INTEGER NOT NULL, 
	zone_id INTEGER, 
	work TEXT NOT NULL, 
	earliest DATE NOT NULL, 
	target DATE NOT NULL, 
	latest DATE NOT NULL, 
	minutes INTEGER NOT NULL, 
	area_m2 FLOAT, 
	needs TEXT NOT NULL, 
	reason TEXT NOT NULL, 
	recheck BOOLEAN NOT NULL, 
	unplaced_why TEXT, 
	unplaced_mend TEXT, 
	CONSTRAINT pk_due PRIMARY KEY (id), 
	CONSTRAINT ck_due_work CHECK (work IN ('clean', 'burnish', 'fine burnish', 'deep scrub', 'recoat', 're-polish', 'strip', 'densify', 'full restoration', 'spot repair', 'joint repair', 'reading round', 'slip test', 'walk', 'call')), 
	CONSTRAINT ck_due_order CHECK (earliest <= target AND target <= latest), 
	CONSTRAINT ck_due_unplaced CHECK ((unplaced_why IS NULL) = (unplaced_mend IS NULL)), 
	CONSTRAINT fk_due_plan_id_plan FOREIGN KEY(plan_id) REFERENCES "plan" (id), 
	CONSTRAINT fk_due_site_id_site FOREIGN KEY(site_id) REFERENCES site (id), 
	CONSTRAINT fk_due_zone_id_zone FOREIGN KEY(zone_id) REFERENCES zone (id)
);
INSERT INTO "due" VALUES(1,1,1,1,'reading round','2026-03-03','2026-03-03','2026-03-06',7,420.5,'','{"rule": "set rhythm", "inside": "Reading round for Hall, lane: our own rhythm, last done 5 January 2026, was due 2 March 2026.", "customer": "Reading round for Hall, lane: the floor''s gloss is read so that its care follows its wear.", "facts": [["rhythm", "FREQ=WEEKLY;INTERVAL=4"], ["promised", 0], ["last done on", "2026-01-05"]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(2,1,1,1,'reading round','2026-03-29','2026-03-31','2026-04-02',7,420.5,'','{"rule": "set rhythm", "inside": "Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 31 March 2026.", "customer": "Reading round for Hall, lane: the floor''s gloss is read so that its care follows its wear.", "facts": [["rhythm", "FREQ=WEEKLY;INTERVAL=4"], ["promised", 0], ["last done on", "2026-01-05"]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(3,1,1,1,'reading round','2026-04-26','2026-04-28','2026-04-30',7,420.5,'','{"rule": "set rhythm", "inside": "Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 28 April 2026.", "customer": "Reading round for Hall, lane: the floor''s gloss is read so that its care follows its wear.", "facts": [["rhythm", "FREQ=WEEKLY;INTERVAL=4"], ["promised", 0], ["last done on", "2026-01-05"]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(4,1,1,1,'reading round','2026-05-24','2026-05-26','2026-05-28',7,420.5,'','{"rule": "set rhythm", "inside": "Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 26 May 2026.", "customer": "Reading round for Hall, lane: the floor''s gloss is read so that its care follows its wear.", "facts": [["rhythm", "FREQ=WEEKLY;INTERVAL=4"], ["promised", 0], ["last done on", "2026-01-05"]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(5,1,1,1,'reading round','2026-06-21','2026-06-23','2026-06-25',7,420.5,'','{"rule": "set rhythm", "inside": "Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 23 June 2026.", "customer": "Reading round for Hall, lane: the floor''s gloss is read so that its care follows its wear.", "facts": [["rhythm", "FREQ=WEEKLY;INTERVAL=4"], ["promised", 0], ["last done on", "2026-01-05"]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(6,1,1,1,'reading round','2026-07-19','2026-07-21','2026-07-23',7,420.5,'','{"rule": "set rhythm", "inside": "Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 21 July 2026.", "customer": "Reading round for Hall, lane: the floor''s gloss is read so that its care follows its wear.", "facts": [["rhythm", "FREQ=WEEKLY;INTERVAL=4"], ["promised", 0], ["last done on", "2026-01-05"]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(7,1,1,1,'burnish','2026-08-08','2026-08-10','2026-08-10',86,420.5,'loud,wet','{"rule": "promise at confidence", "inside": "Burnish for Hall, lane: gloss 52 GU on 1 September 2025, 88% of reference; likely to pass 80% between 3 March 2026 and 31 August 2026.", "customer": "Burnish for Hall, lane: traffic has dulled the surface and burnishing brings the gloss back.", "facts": [["promise GU", 48.0], ["reference GU", 60.0], ["last reading GU", 52.5], ["last reading on", "2025-09-01"], ["probability kept", 0.74]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(8,1,1,1,'burnish','2026-08-15','2026-08-17','2026-08-17',86,420.5,'loud,wet','{"rule": "promise at confidence", "inside": "Burnish for Hall, lane: forecast to keep 48 GU until 24 August 2026 with a probability of only 74%.", "customer": "Burnish for Hall, lane: traffic has dulled the surface and burnishing brings the gloss back.", "facts": [["promise GU", 48.0], ["reference GU", 60.0], ["last reading GU", 52.5], ["last reading on", "2025-09-01"], ["probability kept", 0.74]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(9,1,1,1,'reading round','2026-08-16','2026-08-18','2026-08-20',7,420.5,'','{"rule": "set rhythm", "inside": "Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 18 August 2026.", "customer": "Reading round for Hall, lane: the floor''s gloss is read so that its care follows its wear.", "facts": [["rhythm", "FREQ=WEEKLY;INTERVAL=4"], ["promised", 0], ["last done on", "2026-01-05"]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(10,1,1,1,'burnish','2026-08-22','2026-08-24','2026-08-24',86,420.5,'loud,wet','{"rule": "promise at confidence", "inside": "Burnish for Hall, lane: forecast to keep 48 GU until 31 August 2026 with a probability of only 74%.", "customer": "Burnish for Hall, lane: traffic has dulled the surface and burnishing brings the gloss back.", "facts": [["promise GU", 48.0], ["reference GU", 60.0], ["last reading GU", 52.5], ["last reading on", "2025-09-01"], ["probability kept", 0.74]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(11,1,1,1,'burnish','2026-08-29','2026-08-31','2026-08-31',86,420.5,'loud,wet','{"rule": "promise at confidence", "inside": "Burnish for Hall, lane: forecast to keep 48 GU until 7 September 2026 with a probability of only 73%.", "customer": "Burnish for Hall, lane: traffic has dulled the surface and burnishing brings the gloss back.", "facts": [["promise GU", 48.0], ["reference GU", 60.0], ["last reading GU", 52.5], ["last reading on", "2025-09-01"], ["probability kept", 0.73]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(12,1,2,2,'recoat','2026-03-09','2026-03-16','2026-03-23',153,420.5,'loud,wet','{"rule": "set rhythm", "inside": "Protector coat for Hall, lane: our own rhythm, last done 5 January 2026, due 16 March 2026.", "customer": "Protector coat for Hall, lane: the thin protector has worn with traffic and is renewed before the floor is.", "facts": [["rhythm", "FREQ=WEEKLY;INTERVAL=10"], ["promised", 0], ["last done on", "2026-01-05"]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(13,1,2,2,'recoat','2026-05-18','2026-05-25','2026-06-01',153,420.5,'loud,wet','{"rule": "set rhythm", "inside": "Protector coat for Hall, lane: our own rhythm, last done 5 January 2026, due 25 May 2026.", "customer": "Protector coat for Hall, lane: the thin protector has worn with traffic and is renewed before the floor is.", "facts": [["rhythm", "FREQ=WEEKLY;INTERVAL=10"], ["promised", 0], ["last done on", "2026-01-05"]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(14,1,2,2,'recoat','2026-07-27','2026-08-03','2026-08-10',153,420.5,'loud,wet','{"rule": "set rhythm", "inside": "Protector coat for Hall, lane: our own rhythm, last done 5 January 2026, due 3 August 2026.", "customer": "Protector coat for Hall, lane: the thin protector has worn with traffic and is renewed before the floor is.", "facts": [["rhythm", "FREQ=WEEKLY;INTERVAL=10"], ["promised", 0], ["last done on", "2026-01-05"]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(15,2,1,1,'reading round','2026-03-10','2026-03-10','2026-03-13',7,420.5,'','{"rule": "set rhythm", "inside": "Reading round for Hall, lane: our own rhythm, last done 5 January 2026, was due 2 March 2026.", "customer": "Reading round for Hall, lane: the floor''s gloss is read so that its care follows its wear.", "facts": [["rhythm", "FREQ=WEEKLY;INTERVAL=4"], ["promised", 0], ["last done on", "2026-01-05"]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(16,2,1,1,'reading round','2026-04-05','2026-04-07','2026-04-09',7,420.5,'','{"rule": "set rhythm", "inside": "Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 7 April 2026.", "customer": "Reading round for Hall, lane: the floor''s gloss is read so that its care follows its wear.", "facts": [["rhythm", "FREQ=WEEKLY;INTERVAL=4"], ["promised", 0], ["last done on", "2026-01-05"]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(17,2,1,1,'burnish','2026-04-11','2026-04-13','2026-04-13',86,420.5,'loud,wet','{"rule": "promise at confidence", "inside": "Burnish for Hall, lane: gloss 46 GU on 9 March 2026, 77% of reference; likely to pass 80% between 10 March 2026 and 7 September 2026.", "customer": "Burnish for Hall, lane: traffic has dulled the surface and burnishing brings the gloss back.", "facts": [["promise GU", 48.0], ["reference GU", 60.0], ["last reading GU", 46.0], ["last reading on", "2026-03-09"], ["probability kept", 0.74]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(18,2,1,1,'fine burnish','2026-04-27','2026-04-27','2026-05-04',121,420.5,'loud,wet','{"rule": "promise at confidence", "inside": "Fine burnish for Hall, lane: forecast to keep 48 GU until 11 May 2026 with a probability of only 70%; burnish alone would hold three days, and the next opportunity is 7 days off.", "customer": "Fine burnish for Hall, lane: fine scuffs are taken out before they grow into scratches.", "facts": [["promise GU", 48.0], ["reference GU", 60.0], ["last reading GU", 46.0], ["last reading on", "2026-03-09"], ["probability kept", 0.7]], "rejected": [["burnish", "would hold three days, and the next opportunity is 7 days off"]]}',0,NULL,NULL);
INSERT INTO "due" VALUES(19,2,1,1,'reading round','2026-05-03','2026-05-05','2026-05-07',7,420.5,'','{"rule": "set rhythm", "inside": "Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 5 May 2026.", "customer": "Reading round for Hall, lane: the floor''s gloss is read so that its care follows its wear.", "facts": [["rhythm", "FREQ=WEEKLY;INTERVAL=4"], ["promised", 0], ["last done on", "2026-01-05"]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(20,2,1,1,'reading round','2026-05-31','2026-06-02','2026-06-04',7,420.5,'','{"rule": "set rhythm", "inside": "Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 2 June 2026.", "customer": "Reading round for Hall, lane: the floor''s gloss is read so that its care follows its wear.", "facts": [["rhythm", "FREQ=WEEKLY;INTERVAL=4"], ["promised", 0], ["last done on", "2026-01-05"]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(21,2,1,1,'reading round','2026-06-28','2026-06-30','2026-07-02',7,420.5,'','{"rule": "set rhythm", "inside": "Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 30 June 2026.", "customer": "Reading round for Hall, lane: the floor''s gloss is read so that its care follows its wear.", "facts": [["rhythm", "FREQ=WEEKLY;INTERVAL=4"], ["promised", 0], ["last done on", "2026-01-05"]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(22,2,1,1,'burnish','2026-07-18','2026-07-20','2026-07-20',86,420.5,'loud,wet','{"rule": "promise at confidence", "inside": "Burnish for Hall, lane: gloss 46 GU on 9 March 2026, 77% of reference; likely to pass 80% between 10 March 2026 and 7 September 2026.", "customer": "Burnish for Hall, lane: traffic has dulled the surface and burnishing brings the gloss back.", "facts": [["promise GU", 48.0], ["reference GU", 60.0], ["last reading GU", 46.0], ["last reading on", "2026-03-09"], ["probability kept", 0.73]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(23,2,1,1,'fine burnish','2026-07-27','2026-08-03','2026-08-03',121,420.5,'loud,wet','{"rule": "promise at confidence", "inside": "Fine burnish for Hall, lane: forecast to keep 48 GU until 10 August 2026 with a probability of only 72%; burnish alone would hold six days, and the next opportunity is 7 days off.", "customer": "Fine burnish for Hall, lane: fine scuffs are taken out before they grow into scratches.", "facts": [["promise GU", 48.0], ["reference GU", 60.0], ["last reading GU", 46.0], ["last reading on", "2026-03-09"], ["probability kept", 0.72]], "rejected": [["burnish", "would hold six days, and the next opportunity is 7 days off"]]}',0,NULL,NULL);
INSERT INTO "due" VALUES(24,2,1,1,'reading round','2026-07-26','2026-07-28','2026-07-30',7,420.5,'','{"rule": "set rhythm", "inside": "Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 28 July 2026.", "customer": "Reading round for Hall, lane: the floor''s gloss is read so that its care follows its wear.", "facts": [["rhythm", "FREQ=WEEKLY;INTERVAL=4"], ["promised", 0], ["last done on", "2026-01-05"]], "rejected": []}',0,NULL,NULL);
INSERT INTO "due" VALUES(25,2,1,1,'reading round','2026-08-23','2026-08-25','2026-08-27',7,420.5,'','{"rule": "set rhythm", "inside": "Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 25 August 2026.", "customer": "Reading round for Hall, lane: the floor''s gloss is read so that its care follows its wear.", "facts": [["rhythm", "FREQ=WEEKLY;INTERVAL=4"], ["promised", 0], ["last done on", "2026-01-05"]], "rejected": []}',0,NULL,NULL);
CREATE TABLE history_entry (
	id INTEGER NOT NULL, 
	at DATETIME NOT NULL, 
	who TEXT NOT NULL, 
	what TEXT NOT NULL, 
	detail TEXT NOT NULL, 
	CONSTRAINT pk_history_entry PRIMARY KEY (id)
);
INSERT INTO "history_entry" VALUES(1,'2026-03-02 09:30:00.000000','office','portfolio brought in','{"before": {}, "counts": {"access windows": {"added": 2, "changed": 0}, "areas": {"added": 2, "changed": 0}, "branches": {"added": 2, "changed": 0}, "branches of sites": {"added": 2, "changed": 0}, "customers": {"added": 1, "changed": 0}, "promises": {"added": 1, "changed": 0}, "readings": {"added": 3, "changed": 0}, "routines": {"added": 3, "changed": 0}, "shut days": {"added": 2, "changed": 0}, "sites": {"added": 2, "changed": 0}, "stations": {"added": 4, "changed": 0}, "traffic": {"added": 2, "changed": 0}, "treatments done": {"added": 2, "changed": 0}, "values of zones": {"added": 2, "changed": 0}, "zones": {"added": 2, "changed": 0}}}');
INSERT INTO "history_entry" VALUES(2,'2026-03-02 09:30:00.000000','planner','plan made','{"added": 13, "changed": 0, "dropped": 0, "kept": 0, "merged": 0, "moved": 0, "unplaced": 0}');
INSERT INTO "history_entry" VALUES(3,'2026-03-09 14:02:00.000000','kim','portfolio brought in','{"before": {"traffic": [{"changed": {"to_on": [null, "2026-01-31"]}, "key": {"from_on": "2024-01-01", "kind": "foot", "zone_id": 1}}, {"changed": {"withdrawn_at": [null, "2026-03-09T14:02:00+00:00"]}, "key": {"from_on": "2024-01-01", "kind": "foot", "zone_id": 2}}]}, "counts": {"readings": {"added": 1, "changed": 0}, "traffic": {"added": 2, "changed": 2}}}');
INSERT INTO "history_entry" VALUES(4,'2026-03-09 14:02:00.000000','planner','plan made','{"added": 2, "changed": 0, "dropped": 0, "kept": 3, "merged": 2, "moved": 7, "unplaced": 0}');
CREATE TABLE installation (
	id INTEGER NOT NULL, 
	uuid TEXT NOT NULL, 
	domain TEXT NOT NULL, 
	made_at DATETIME NOT NULL, 
	CONSTRAINT pk_installation PRIMARY KEY (id), 
	CONSTRAINT ck_installation_only_one CHECK (id = 1)
);
INSERT INTO "installation" VALUES(1,'5f0c7a4e-6f0b-4f0e-9a53-0d3c5b6a7f10','floorcare.invalid','2026-03-02 09:30:00.000000');
CREATE TABLE "plan" (
	id INTEGER NOT NULL, 
	made_at DATETIME NOT NULL, 
	made_by TEXT NOT NULL, 
	today DATE NOT NULL, 
	last_on DATE NOT NULL, 
	digest TEXT NOT NULL, 
	added INTEGER NOT NULL, 
	moved INTEGER NOT NULL, 
	merged INTEGER NOT NULL, 
	changed INTEGER NOT NULL, 
	dropped INTEGER NOT NULL, 
	kept INTEGER NOT NULL, 
	unplaced INTEGER NOT NULL, 
	CONSTRAINT pk_plan PRIMARY KEY (id)
);
INSERT INTO "plan" VALUES(1,'2026-03-02 09:30:00.000000','planner','2026-03-02','2026-08-31','0a02ac5f0ae8dd0f870b6c189461385c8e9a202afa1db545fcfee76a6782b80a',13,0,0,0,0,0,0);
INSERT INTO "plan" VALUES(2,'2026-03-09 14:02:00.000000','planner','2026-03-09','2026-09-07','8a447aec02b432018209c479db246b7aff931d1a44b5adcee5b4fbf768c96d89',2,7,2,0,0,3,0);
CREATE TABLE promise_line (
	id INTEGER NOT NULL, 
	zone_id INTEGER NOT NULL, 
	contract TEXT NOT NULL, 
	kind TEXT NOT NULL, 
	starts_on DATE NOT NULL, 
	ends_on DATE NOT NULL, 
	reference_gu FLOAT, 
	reference_on DATE, 
	reference_state TEXT NOT NULL, 
	loss_share FLOAT NOT NULL, 
	confidence FLOAT NOT NULL, 
	policy TEXT NOT NULL, 
	slip_method TEXT NOT NULL, 
	slip_limit FLOAT, 
	slip_place TEXT NOT NULL, 
	response_hours INTEGER, 
	CONSTRAINT pk_promise_line PRIMARY KEY (id), 
	CONSTRAINT uq_promise_line_contract_zone_id_kind_starts_on UNIQUE (contract, zone_id, kind, starts_on), 
	CONSTRAINT ck_promise_line_kind CHECK (kind IN ('appearance', 'rhythm', 'slip', 'response')), 
	CONSTRAINT ck_promise_line_reference_state CHECK (reference_state IN ('after cleaning', 'after burnish', 'wet')), 
	CONSTRAINT ck_promise_line_policy CHECK (policy IN ('as agreed', 'gentlest')), 
	CONSTRAINT ck_promise_line_order CHECK (starts_on <= ends_on), 
	CONSTRAINT fk_promise_line_zone_id_zone FOREIGN KEY(zone_id) REFERENCES zone (id)
);
INSERT INTO "promise_line" VALUES(1,1,'C-1','appearance','2024-01-01','2027-12-31',60.0,'2024-01-01','after burnish',0.2,0.75,'gentlest','',NULL,'level',NULL);
CREATE TABLE reading (
	id INTEGER NOT NULL, 
	zone_id INTEGER NOT NULL, 
	station_id INTEGER, 
	taken_on DATE NOT NULL, 
	taken_minute INTEGER NOT NULL, 
	measure TEXT NOT NULL, 
	geometry_deg INTEGER NOT NULL, 
	method TEXT NOT NULL, 
	instrument TEXT NOT NULL, 
	state TEXT NOT NULL, 
	value FLOAT NOT NULL, 
	reader TEXT NOT NULL, 
	witness TEXT NOT NULL, 
	CONSTRAINT pk_reading PRIMARY KEY (id), 
	CONSTRAINT uq_reading_at_station UNIQUE (zone_id, station_id, taken_on, taken_minute, measure, geometry_deg, method, instrument, state), 
	CONSTRAINT ck_reading_taken_minute CHECK (taken_minute BETWEEN 0 AND 1439), 
	CONSTRAINT ck_reading_measure CHECK (measure IN ('gloss', 'DOI', 'haze', 'roughness', 'grade', 'slip')), 
	CONSTRAINT ck_reading_state CHECK (state IN ('after cleaning', 'after burnish', 'wet')), 
	CONSTRAINT fk_reading_zone_id_zone FOREIGN KEY(zone_id) REFERENCES zone (id), 
	CONSTRAINT fk_reading_station_id_station FOREIGN KEY(station_id) REFERENCES station (id)
);
INSERT INTO "reading" VALUES(1,1,1,'2025-03-01',600,'gloss',60,'','M1','after burnish',58.0,'R. Vale','');
INSERT INTO "reading" VALUES(2,1,1,'2025-06-01',600,'gloss',60,'','M1','after burnish',55.0,'R. Vale','');
INSERT INTO "reading" VALUES(3,1,NULL,'2025-09-01',600,'gloss',60,'','M1','after burnish',52.5,'R. Vale','');
INSERT INTO "reading" VALUES(4,1,1,'2026-03-09',600,'gloss',60,'','M1','after burnish',46.0,'R. Vale','');
CREATE TABLE routine (
	id INTEGER NOT NULL, 
	zone_id INTEGER NOT NULL, 
	work TEXT NOT NULL, 
	starts_on DATE NOT NULL, 
	ends_on DATE, 
	rule TEXT NOT NULL, 
	performer TEXT NOT NULL, 
	proof TEXT NOT NULL, 
	except_on TEXT NOT NULL, 
	minutes INTEGER, 
	about_days INTEGER NOT NULL, 
	promised BOOLEAN NOT NULL, 
	withdrawn_at DATETIME, 
	CONSTRAINT pk_routine PRIMARY KEY (id), 
	CONSTRAINT uq_routine_zone_id_work_starts_on UNIQUE (zone_id, work, starts_on), 
	CONSTRAINT ck_routine_work CHECK (work IN ('clean', 'burnish', 'fine burnish', 'deep scrub', 'recoat', 're-polish', 'strip', 'densify', 'full restoration', 'spot repair', 'joint repair', 'reading round', 'slip test', 'walk', 'call')), 
	CONSTRAINT ck_routine_performer CHECK (performer IN ('site team', 'us', 'other')), 
	CONSTRAINT ck_routine_proof CHECK (proof IN ('confirmed', 'reported', 'assumed', 'known missed')), 
	CONSTRAINT fk_routine_zone_id_zone FOREIGN KEY(zone_id) REFERENCES zone (id)
);
INSERT INTO "routine" VALUES(1,1,'burnish','2024-01-01',NULL,'FREQ=WEEKLY;BYDAY=TU,FR','us','confirmed','2025-12-26',NULL,0,0,NULL);
INSERT INTO "routine" VALUES(2,1,'reading round','2026-01-05',NULL,'FREQ=WEEKLY;INTERVAL=4','us','confirmed','',NULL,0,0,NULL);
INSERT INTO "routine" VALUES(3,2,'recoat','2026-01-05',NULL,'FREQ=WEEKLY;INTERVAL=10','us','confirmed','',NULL,0,0,NULL);
CREATE TABLE shut_day (
	id INTEGER NOT NULL, 
	site_id INTEGER NOT NULL, 
	from_on DATE NOT NULL, 
	to_on DATE NOT NULL, 
	why TEXT NOT NULL, 
	CONSTRAINT pk_shut_day PRIMARY KEY (id), 
	CONSTRAINT uq_shut_day_site_id_from_on UNIQUE (site_id, from_on), 
	CONSTRAINT ck_shut_day_order CHECK (from_on <= to_on), 
	CONSTRAINT fk_shut_day_site_id_site FOREIGN KEY(site_id) REFERENCES site (id)
);
INSERT INTO "shut_day" VALUES(1,1,'2026-12-24','2027-01-01','inventory');
INSERT INTO "shut_day" VALUES(2,2,'2026-12-24','2027-01-01','inventory');
CREATE TABLE site (
	id INTEGER NOT NULL, 
	code TEXT NOT NULL, 
	customer_id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	time_zone TEXT NOT NULL, 
	address TEXT NOT NULL, 
	country TEXT NOT NULL, 
	region TEXT NOT NULL, 
	latitude FLOAT, 
	longitude FLOAT, 
	holidays TEXT NOT NULL, 
	notice_days INTEGER NOT NULL, 
	access_note TEXT NOT NULL, 
	version INTEGER NOT NULL, 
	CONSTRAINT pk_site PRIMARY KEY (id), 
	CONSTRAINT uq_site_code UNIQUE (code), 
	CONSTRAINT ck_site_holidays CHECK (holidays IN ('shut', 'worked')), 
	CONSTRAINT fk_site_customer_id_customer FOREIGN KEY(customer_id) REFERENCES customer (id)
);
INSERT INTO "site" VALUES(1,'NORTH',1,'North hall','Europe/Berlin','','DE','BE',NULL,NULL,'shut',7,'',1);
INSERT INTO "site" VALUES(2,'SOUTH',1,'South hall','America/Chicago','','DE','BE',NULL,NULL,'shut',14,'',1);
CREATE TABLE site_branch (
	id INTEGER NOT NULL, 
	site_id INTEGER NOT NULL, 
	branch_id INTEGER NOT NULL, 
	from_on DATE NOT NULL, 
	to_on DATE, 
	withdrawn_at DATETIME, 
	CONSTRAINT pk_site_branch PRIMARY KEY (id), 
	CONSTRAINT uq_site_branch_site_id_from_on UNIQUE (site_id, from_on), 
	CONSTRAINT fk_site_branch_site_id_site FOREIGN KEY(site_id) REFERENCES site (id), 
	CONSTRAINT fk_site_branch_branch_id_branch FOREIGN KEY(branch_id) REFERENCES branch (id)
);
INSERT INTO "site_branch" VALUES(1,1,1,'2024-01-01',NULL,NULL);
INSERT INTO "site_branch" VALUES(2,2,2,'2024-01-01',NULL,NULL);
CREATE TABLE station (
	id INTEGER NOT NULL, 
	zone_id INTEGER NOT NULL, 
	code TEXT NOT NULL, 
	note TEXT NOT NULL, 
	CONSTRAINT pk_station PRIMARY KEY (id), 
	CONSTRAINT uq_station_zone_id_code UNIQUE (zone_id, code), 
	CONSTRAINT fk_station_zone_id_zone FOREIGN KEY(zone_id) REFERENCES zone (id)
);
INSERT INTO "station" VALUES(1,1,'P1','door');
INSERT INTO "station" VALUES(2,1,'P2','');
INSERT INTO "station" VALUES(3,2,'P1','door');
INSERT INTO "station" VALUES(4,2,'P2','');
CREATE TABLE traffic_row (
	id INTEGER NOT NULL, 
	zone_id INTEGER NOT NULL, 
	kind TEXT NOT NULL, 
	from_on DATE NOT NULL, 
	to_on DATE, 
	per_day FLOAT NOT NULL, 
	counted BOOLEAN NOT NULL, 
	withdrawn_at DATETIME, 
	CONSTRAINT pk_traffic_row PRIMARY KEY (id), 
	CONSTRAINT uq_traffic_row_zone_id_kind_from_on UNIQUE (zone_id, kind, from_on), 
	CONSTRAINT ck_traffic_row_kind CHECK (kind IN ('foot', 'trolley', 'pallet truck', 'lift truck')), 
	CONSTRAINT ck_traffic_row_per_day CHECK (per_day BETWEEN 0 AND 1000000), 
	CONSTRAINT ck_traffic_row_order CHECK (from_on <= to_on), 
	CONSTRAINT fk_traffic_row_zone_id_zone FOREIGN KEY(zone_id) REFERENCES zone (id)
);
INSERT INTO "traffic_row" VALUES(1,1,'foot','2024-01-01','2026-01-31',1800.0,1,NULL);
INSERT INTO "traffic_row" VALUES(2,2,'foot','2024-01-01',NULL,1800.0,1,'2026-03-09 14:02:00.000000');
INSERT INTO "traffic_row" VALUES(3,1,'foot','2026-02-01',NULL,2400.0,1,NULL);
INSERT INTO "traffic_row" VALUES(4,2,'foot','2023-06-01',NULL,900.0,1,NULL);
CREATE TABLE treatment_done (
	id INTEGER NOT NULL, 
	zone_id INTEGER NOT NULL, 
	work TEXT NOT NULL, 
	done_on DATE NOT NULL, 
	known TEXT NOT NULL, 
	about_days INTEGER NOT NULL, 
	share FLOAT NOT NULL, 
	performer TEXT NOT NULL, 
	visit_uuid TEXT NOT NULL, 
	CONSTRAINT pk_treatment_done PRIMARY KEY (id), 
	CONSTRAINT uq_treatment_done_zone_id_work_done_on UNIQUE (zone_id, work, done_on), 
	CONSTRAINT ck_treatment_done_work CHECK (work IN ('clean', 'burnish', 'fine burnish', 'deep scrub', 'recoat', 're-polish', 'strip', 'densify', 'full restoration', 'spot repair', 'joint repair', 'reading round', 'slip test', 'walk', 'call')), 
	CONSTRAINT ck_treatment_done_known CHECK (known IN ('known', 'about')), 
	CONSTRAINT ck_treatment_done_share CHECK (share > 0 AND share <= 1), 
	CONSTRAINT fk_treatment_done_zone_id_zone FOREIGN KEY(zone_id) REFERENCES zone (id)
);
INSERT INTO "treatment_done" VALUES(1,1,'recoat','2025-02-01','about',10,1.0,'','');
INSERT INTO "treatment_done" VALUES(2,2,'recoat','2025-02-01','about',10,1.0,'','');
CREATE TABLE visit (
	id INTEGER NOT NULL, 
	uuid TEXT NOT NULL, 
	site_id INTEGER NOT NULL, 
	night DATE NOT NULL, 
	starts_minute INTEGER NOT NULL, 
	minutes INTEGER NOT NULL, 
	people INTEGER NOT NULL, 
	state TEXT NOT NULL, 
	commitment TEXT NOT NULL, 
	agreement TEXT NOT NULL, 
	origin TEXT NOT NULL, 
	sequence INTEGER NOT NULL, 
	changed_at DATETIME NOT NULL, 
	version INTEGER NOT NULL, 
	CONSTRAINT pk_visit PRIMARY KEY (id), 
	CONSTRAINT uq_visit_uuid UNIQUE (uuid), 
	CONSTRAINT ck_visit_starts_minute CHECK (starts_minute BETWEEN 0 AND 2879), 
	CONSTRAINT ck_visit_state CHECK (state IN ('proposed', 'held', 'started', 'done', 'part done', 'no access', 'cancelled')), 
	CONSTRAINT ck_visit_commitment CHECK (commitment IN ('week', 'night', 'hour')), 
	CONSTRAINT ck_visit_agreement CHECK (agreement IN ('not needed', 'asked', 'agreed', 'refused')), 
	CONSTRAINT ck_visit_origin CHECK (origin IN ('plan', 'call', 'customer order', 'make-good')), 
	CONSTRAINT fk_visit_site_id_site FOREIGN KEY(site_id) REFERENCES site (id)
);
INSERT INTO "visit" VALUES(1,'e43528a7-f57f-5b8e-b1db-459cf53f9afc',1,'2026-03-03',1320,34,2,'proposed','week','not needed','plan',0,'2026-03-02 09:30:00.000000',1);
INSERT INTO "visit" VALUES(2,'5cd961aa-12e3-510f-960e-359c90ccc7a1',1,'2026-04-07',1320,34,2,'proposed','week','not needed','plan',1,'2026-03-09 14:02:00.000000',2);
INSERT INTO "visit" VALUES(3,'09c0151b-4635-5865-9bfb-6da032bddb7a',1,'2026-05-04',1320,154,2,'proposed','week','not needed','plan',1,'2026-03-09 14:02:00.000000',2);
INSERT INTO "visit" VALUES(4,'0c8ff602-2e92-5f6c-a848-19fcb36c243f',1,'2026-06-02',1320,34,2,'proposed','week','not needed','plan',1,'2026-03-09 14:02:00.000000',2);
INSERT INTO "visit" VALUES(5,'1d7781a6-78c1-58ec-9451-0f0729ab4151',1,'2026-06-30',1320,34,2,'proposed','week','not needed','plan',1,'2026-03-09 14:02:00.000000',2);
INSERT INTO "visit" VALUES(6,'e62c9b3e-a38e-587d-a46b-fbeac4fbf6b9',1,'2026-07-28',1320,154,2,'proposed','week','not needed','plan',1,'2026-03-09 14:02:00.000000',2);
INSERT INTO "visit" VALUES(7,'4b14e13a-0645-5bd2-bf9d-bb4ff06a1d9a',1,'2026-07-20',1320,104,2,'proposed','week','not needed','plan',1,'2026-03-09 14:02:00.000000',2);
INSERT INTO "visit" VALUES(8,'27648d12-d90c-5e23-98f2-b4ca62af7981',1,'2026-08-25',1320,34,2,'proposed','week','not needed','plan',1,'2026-03-09 14:02:00.000000',2);
INSERT INTO "visit" VALUES(9,'8829c027-4694-5993-9fc4-dace278d412d',1,'2026-08-24',1320,104,2,'cancelled','week','not needed','plan',1,'2026-03-09 14:02:00.000000',2);
INSERT INTO "visit" VALUES(10,'3f33e9a2-de7e-5bde-8ac8-89b29f7a790b',1,'2026-08-31',1320,104,2,'cancelled','week','not needed','plan',1,'2026-03-09 14:02:00.000000',2);
INSERT INTO "visit" VALUES(11,'ef7aea42-d311-59a9-8fd1-5164aa4c07cc',2,'2026-03-16',1320,188,2,'proposed','week','not needed','plan',0,'2026-03-02 09:30:00.000000',1);
INSERT INTO "visit" VALUES(12,'0362b3b1-7188-5b3b-b98d-f46257d7a255',2,'2026-05-26',1320,188,2,'proposed','week','not needed','plan',0,'2026-03-02 09:30:00.000000',1);
INSERT INTO "visit" VALUES(13,'710eca0f-41f0-508e-bcfe-fface8f75797',2,'2026-08-03',1320,188,2,'proposed','week','not needed','plan',0,'2026-03-02 09:30:00.000000',1);
INSERT INTO "visit" VALUES(14,'66adfb9c-5e3a-51c5-8c2c-7ec7685e972f',1,'2026-03-10',1320,34,2,'proposed','week','not needed','plan',0,'2026-03-09 14:02:00.000000',1);
INSERT INTO "visit" VALUES(15,'0f70ebb1-9f17-580e-b635-45e0eac04c9e',1,'2026-04-13',1320,104,2,'proposed','week','not needed','plan',0,'2026-03-09 14:02:00.000000',1);
CREATE TABLE visit_event (
	id INTEGER NOT NULL, 
	visit_id INTEGER NOT NULL, 
	plan_id INTEGER, 
	kind TEXT NOT NULL, 
	at DATETIME NOT NULL, 
	who TEXT NOT NULL, 
	why TEXT NOT NULL, 
	night_before DATE, 
	night_after DATE, 
	CONSTRAINT pk_visit_event PRIMARY KEY (id), 
	CONSTRAINT fk_visit_event_visit_id_visit FOREIGN KEY(visit_id) REFERENCES visit (id), 
	CONSTRAINT fk_visit_event_plan_id_plan FOREIGN KEY(plan_id) REFERENCES "plan" (id)
);
INSERT INTO "visit_event" VALUES(1,1,1,'added','2026-03-02 09:30:00.000000','planner','Reading round for Hall, lane: our own rhythm, last done 5 January 2026, was due 2 March 2026.',NULL,'2026-03-03');
INSERT INTO "visit_event" VALUES(2,2,1,'added','2026-03-02 09:30:00.000000','planner','Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 31 March 2026.',NULL,'2026-03-31');
INSERT INTO "visit_event" VALUES(3,3,1,'added','2026-03-02 09:30:00.000000','planner','Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 28 April 2026.',NULL,'2026-04-28');
INSERT INTO "visit_event" VALUES(4,4,1,'added','2026-03-02 09:30:00.000000','planner','Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 26 May 2026.',NULL,'2026-05-26');
INSERT INTO "visit_event" VALUES(5,5,1,'added','2026-03-02 09:30:00.000000','planner','Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 23 June 2026.',NULL,'2026-06-23');
INSERT INTO "visit_event" VALUES(6,6,1,'added','2026-03-02 09:30:00.000000','planner','Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 21 July 2026.',NULL,'2026-07-21');
INSERT INTO "visit_event" VALUES(7,7,1,'added','2026-03-02 09:30:00.000000','planner','Burnish for Hall, lane: gloss 52 GU on 1 September 2025, 88% of reference; likely to pass 80% between 3 March 2026 and 31 August 2026.',NULL,'2026-08-10');
INSERT INTO "visit_event" VALUES(8,8,1,'added','2026-03-02 09:30:00.000000','planner','Burnish for Hall, lane: forecast to keep 48 GU until 24 August 2026 with a probability of only 74%.',NULL,'2026-08-17');
INSERT INTO "visit_event" VALUES(9,9,1,'added','2026-03-02 09:30:00.000000','planner','Burnish for Hall, lane: forecast to keep 48 GU until 31 August 2026 with a probability of only 74%.',NULL,'2026-08-24');
INSERT INTO "visit_event" VALUES(10,10,1,'added','2026-03-02 09:30:00.000000','planner','Burnish for Hall, lane: forecast to keep 48 GU until 7 September 2026 with a probability of only 73%.',NULL,'2026-08-31');
INSERT INTO "visit_event" VALUES(11,11,1,'added','2026-03-02 09:30:00.000000','planner','Protector coat for Hall, lane: our own rhythm, last done 5 January 2026, due 16 March 2026.',NULL,'2026-03-16');
INSERT INTO "visit_event" VALUES(12,12,1,'added','2026-03-02 09:30:00.000000','planner','Protector coat for Hall, lane: our own rhythm, last done 5 January 2026, due 25 May 2026.',NULL,'2026-05-26');
INSERT INTO "visit_event" VALUES(13,13,1,'added','2026-03-02 09:30:00.000000','planner','Protector coat for Hall, lane: our own rhythm, last done 5 January 2026, due 3 August 2026.',NULL,'2026-08-03');
INSERT INTO "visit_event" VALUES(14,14,2,'added','2026-03-09 14:02:00.000000','planner','Reading round for Hall, lane: our own rhythm, last done 5 January 2026, was due 2 March 2026.',NULL,'2026-03-10');
INSERT INTO "visit_event" VALUES(15,2,2,'moved','2026-03-09 14:02:00.000000','planner','from 31 March 2026: Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 7 April 2026.','2026-03-31','2026-04-07');
INSERT INTO "visit_event" VALUES(16,15,2,'added','2026-03-09 14:02:00.000000','planner','Burnish for Hall, lane: gloss 46 GU on 9 March 2026, 77% of reference; likely to pass 80% between 10 March 2026 and 7 September 2026.',NULL,'2026-04-13');
INSERT INTO "visit_event" VALUES(17,3,2,'moved','2026-03-09 14:02:00.000000','planner','from 28 April 2026: Fine burnish for Hall, lane: forecast to keep 48 GU until 11 May 2026 with a probability of only 70%; burnish alone would hold three days, and the next opportunity is 7 days off.','2026-04-28','2026-05-04');
INSERT INTO "visit_event" VALUES(18,4,2,'moved','2026-03-09 14:02:00.000000','planner','from 26 May 2026: Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 2 June 2026.','2026-05-26','2026-06-02');
INSERT INTO "visit_event" VALUES(19,5,2,'moved','2026-03-09 14:02:00.000000','planner','from 23 June 2026: Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 30 June 2026.','2026-06-23','2026-06-30');
INSERT INTO "visit_event" VALUES(20,7,2,'moved','2026-03-09 14:02:00.000000','planner','from 10 August 2026: Burnish for Hall, lane: gloss 46 GU on 9 March 2026, 77% of reference; likely to pass 80% between 10 March 2026 and 7 September 2026.','2026-08-10','2026-07-20');
INSERT INTO "visit_event" VALUES(21,6,2,'moved','2026-03-09 14:02:00.000000','planner','from 21 July 2026: Fine burnish for Hall, lane: forecast to keep 48 GU until 10 August 2026 with a probability of only 72%; burnish alone would hold six days, and the next opportunity is 7 days off.','2026-07-21','2026-07-28');
INSERT INTO "visit_event" VALUES(22,9,2,'merged','2026-03-09 14:02:00.000000','planner','its work is done with the visit of 20 July 2026','2026-08-24',NULL);
INSERT INTO "visit_event" VALUES(23,8,2,'moved','2026-03-09 14:02:00.000000','planner','from 17 August 2026: Reading round for Hall, lane: our own rhythm, last done 5 January 2026, due 25 August 2026.','2026-08-17','2026-08-25');
INSERT INTO "visit_event" VALUES(24,10,2,'merged','2026-03-09 14:02:00.000000','planner','its work is done with the visit of 20 July 2026','2026-08-31',NULL);
CREATE TABLE visit_line (
	id INTEGER NOT NULL, 
	visit_id INTEGER NOT NULL, 
	zone_id INTEGER, 
	due_id INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	work TEXT NOT NULL, 
	minutes INTEGER NOT NULL, 
	area_m2 FLOAT, 
	written_by INTEGER NOT NULL, 
	withdrawn_by INTEGER, 
	CONSTRAINT pk_visit_line PRIMARY KEY (id), 
	CONSTRAINT ck_visit_line_work CHECK (work IN ('clean', 'burnish', 'fine burnish', 'deep scrub', 'recoat', 're-polish', 'strip', 'densify', 'full restoration', 'spot repair', 'joint repair', 'reading round', 'slip test', 'walk', 'call')), 
	CONSTRAINT fk_visit_line_visit_id_visit FOREIGN KEY(visit_id) REFERENCES visit (id), 
	CONSTRAINT fk_visit_line_zone_id_zone FOREIGN KEY(zone_id) REFERENCES zone (id), 
	CONSTRAINT fk_visit_line_due_id_due FOREIGN KEY(due_id) REFERENCES due (id), 
	CONSTRAINT fk_visit_line_written_by_plan FOREIGN KEY(written_by) REFERENCES "plan" (id), 
	CONSTRAINT fk_visit_line_withdrawn_by_plan FOREIGN KEY(withdrawn_by) REFERENCES "plan" (id)
);
INSERT INTO "visit_line" VALUES(1,1,1,1,0,'reading round',7,420.5,1,NULL);
INSERT INTO "visit_line" VALUES(2,2,1,2,0,'reading round',7,420.5,1,2);
INSERT INTO "visit_line" VALUES(3,3,1,3,0,'reading round',7,420.5,1,2);
INSERT INTO "visit_line" VALUES(4,4,1,4,0,'reading round',7,420.5,1,2);
INSERT INTO "visit_line" VALUES(5,5,1,5,0,'reading round',7,420.5,1,2);
INSERT INTO "visit_line" VALUES(6,6,1,6,0,'reading round',7,420.5,1,2);
INSERT INTO "visit_line" VALUES(7,7,1,7,0,'burnish',86,420.5,1,2);
INSERT INTO "visit_line" VALUES(8,8,1,8,0,'burnish',86,420.5,1,2);
INSERT INTO "visit_line" VALUES(9,8,1,9,1,'reading round',7,420.5,1,2);
INSERT INTO "visit_line" VALUES(10,9,1,10,0,'burnish',86,420.5,1,NULL);
INSERT INTO "visit_line" VALUES(11,10,1,11,0,'burnish',86,420.5,1,NULL);
INSERT INTO "visit_line" VALUES(12,11,2,12,0,'recoat',153,420.5,1,NULL);
INSERT INTO "visit_line" VALUES(13,12,2,13,0,'recoat',153,420.5,1,NULL);
INSERT INTO "visit_line" VALUES(14,13,2,14,0,'recoat',153,420.5,1,NULL);
INSERT INTO "visit_line" VALUES(15,14,1,15,0,'reading round',7,420.5,2,NULL);
INSERT INTO "visit_line" VALUES(16,2,1,16,0,'reading round',7,420.5,2,NULL);
INSERT INTO "visit_line" VALUES(17,15,1,17,0,'burnish',86,420.5,2,NULL);
INSERT INTO "visit_line" VALUES(18,3,1,18,0,'fine burnish',121,420.5,2,NULL);
INSERT INTO "visit_line" VALUES(19,3,1,19,1,'reading round',7,420.5,2,NULL);
INSERT INTO "visit_line" VALUES(20,4,1,20,0,'reading round',7,420.5,2,NULL);
INSERT INTO "visit_line" VALUES(21,5,1,21,0,'reading round',7,420.5,2,NULL);
INSERT INTO "visit_line" VALUES(22,7,1,22,0,'burnish',86,420.5,2,NULL);
INSERT INTO "visit_line" VALUES(23,6,1,23,0,'fine burnish',121,420.5,2,NULL);
INSERT INTO "visit_line" VALUES(24,6,1,24,1,'reading round',7,420.5,2,NULL);
INSERT INTO "visit_line" VALUES(25,8,1,25,0,'reading round',7,420.5,2,NULL);
CREATE TABLE zone (
	id INTEGER NOT NULL, 
	site_id INTEGER NOT NULL, 
	area_id INTEGER, 
	code TEXT NOT NULL, 
	name TEXT NOT NULL, 
	exposure TEXT NOT NULL, 
	opening TEXT NOT NULL, 
	polished_on DATE, 
	about_days INTEGER NOT NULL, 
	poured_on DATE, 
	parents TEXT NOT NULL, 
	version INTEGER NOT NULL, 
	CONSTRAINT pk_zone PRIMARY KEY (id), 
	CONSTRAINT uq_zone_site_id_code UNIQUE (site_id, code), 
	CONSTRAINT ck_zone_opening CHECK (opening IN ('fresh', 'dates known', 'dates about', 'unknown')), 
	CONSTRAINT fk_zone_site_id_site FOREIGN KEY(site_id) REFERENCES site (id), 
	CONSTRAINT fk_zone_area_id_area FOREIGN KEY(area_id) REFERENCES area (id)
);
INSERT INTO "zone" VALUES(1,1,1,'LANE','Hall, lane','lane','dates about','2023-05-01',30,NULL,'',1);
INSERT INTO "zone" VALUES(2,2,2,'LANE','Hall, lane','lane','dates about','2023-05-01',30,NULL,'',1);
CREATE TABLE zone_span (
	id INTEGER NOT NULL, 
	zone_id INTEGER NOT NULL, 
	from_on DATE NOT NULL, 
	to_on DATE, 
	surface TEXT NOT NULL, 
	area_m2 FLOAT, 
	traffic TEXT NOT NULL, 
	place TEXT NOT NULL, 
	withdrawn_at DATETIME, 
	CONSTRAINT pk_zone_span PRIMARY KEY (id), 
	CONSTRAINT uq_zone_span_zone_id_from_on UNIQUE (zone_id, from_on), 
	CONSTRAINT ck_zone_span_area_m2 CHECK (area_m2 BETWEEN 0.1 AND 1000000), 
	CONSTRAINT ck_zone_span_traffic CHECK (traffic IN ('light', 'moderate', 'heavy', 'extreme')), 
	CONSTRAINT ck_zone_span_order CHECK (from_on <= to_on), 
	CONSTRAINT fk_zone_span_zone_id_zone FOREIGN KEY(zone_id) REFERENCES zone (id)
);
INSERT INTO "zone_span" VALUES(1,1,'2024-01-01',NULL,'polished_concrete',420.5,'heavy','level',NULL);
INSERT INTO "zone_span" VALUES(2,2,'2024-01-01',NULL,'polished_concrete',420.5,'heavy','level',NULL);
CREATE UNIQUE INDEX uq_reading_whole_zone ON reading (zone_id, taken_on, taken_minute, measure, geometry_deg, method, instrument, state) WHERE station_id IS NULL;
CREATE INDEX ix_promise_line_zone_id ON promise_line (zone_id);
CREATE INDEX ix_due_plan_id ON due (plan_id);
CREATE INDEX ix_visit_night ON visit (night);
CREATE INDEX ix_visit_site_id_night ON visit (site_id, night);
CREATE INDEX ix_visit_line_visit_id ON visit_line (visit_id);
CREATE INDEX ix_visit_event_visit_id ON visit_event (visit_id);
COMMIT;
