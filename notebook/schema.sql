-- Version 1. A shipped version is never edited: a change is a new step in
-- migrate.go with a fixture of the old file in testdata.
-- Times are milliseconds since 1970-01-01 UTC.

CREATE TABLE job (
	id   INTEGER PRIMARY KEY AUTOINCREMENT,
	name TEXT NOT NULL UNIQUE CHECK (name <> ''),
	note TEXT NOT NULL DEFAULT '',
	made INTEGER NOT NULL
) STRICT;

CREATE TABLE cue (
	id       INTEGER PRIMARY KEY AUTOINCREMENT,
	job      INTEGER NOT NULL REFERENCES job ON DELETE RESTRICT,
	number   TEXT NOT NULL CHECK (number <> ''),
	name     TEXT NOT NULL DEFAULT '',
	timecode TEXT NOT NULL DEFAULT '',
	note     TEXT NOT NULL DEFAULT '',
	made     INTEGER NOT NULL,
	UNIQUE (job, number)
) STRICT;

CREATE TABLE take (
	id       INTEGER PRIMARY KEY AUTOINCREMENT,
	cue      INTEGER NOT NULL REFERENCES cue ON DELETE RESTRICT,
	number   INTEGER NOT NULL CHECK (number > 0),
	kept     INTEGER NOT NULL,
	parent   INTEGER REFERENCES take ON DELETE RESTRICT,
	origin   TEXT NOT NULL DEFAULT '',
	note     TEXT NOT NULL,
	tags     TEXT NOT NULL CHECK (json_valid(tags)),   -- JSON list of strings
	patch    TEXT NOT NULL,                            -- JSON, format of package patch
	memory   TEXT NOT NULL,                            -- JSON, format of package memory
	asked    REAL NOT NULL CHECK (asked >= 0),         -- length that was asked for; 0: one pass of the memory and its tail
	seconds  REAL NOT NULL CHECK (seconds > 0),        -- length of the audition
	rate     INTEGER NOT NULL CHECK (rate > 0),
	channels INTEGER NOT NULL CHECK (channels IN (1, 2)),
	peak     REAL NOT NULL,
	sha256   TEXT NOT NULL CHECK (length(sha256) = 64), -- of the render's float samples
	kinds    TEXT NOT NULL CHECK (json_valid(kinds)),   -- JSON: kind -> version
	program  TEXT NOT NULL,
	digest   TEXT NOT NULL CHECK (length(digest) = 64), -- SHA-256 of all the above but id, see digest.go
	UNIQUE (cue, number)
) STRICT;

CREATE INDEX take_parent ON take (parent);

-- The audition stands in a table of its own so that a contents page never
-- walks through audio.
CREATE TABLE audition (
	take   INTEGER PRIMARY KEY REFERENCES take ON DELETE RESTRICT,
	sha256 TEXT NOT NULL CHECK (length(sha256) = 64), -- of the bytes of flac
	flac   BLOB NOT NULL
) STRICT;

CREATE TABLE recording (
	sha256 TEXT NOT NULL PRIMARY KEY CHECK (length(sha256) = 64),
	name   TEXT NOT NULL,
	file   BLOB NOT NULL
) STRICT;

CREATE TABLE take_recording (
	take      INTEGER NOT NULL REFERENCES take ON DELETE RESTRICT,
	recording TEXT NOT NULL REFERENCES recording ON DELETE RESTRICT,
	name      TEXT NOT NULL,
	PRIMARY KEY (take, recording)
) STRICT, WITHOUT ROWID;

CREATE INDEX take_recording_recording ON take_recording (recording);

-- The one mark that may change stands outside the page.
CREATE TABLE star (
	take INTEGER PRIMARY KEY REFERENCES take ON DELETE RESTRICT
) STRICT;

CREATE TABLE draft (
	id     INTEGER PRIMARY KEY CHECK (id > 0), -- 1: the work in progress; others: work that was set aside
	cue    INTEGER REFERENCES cue ON DELETE SET NULL,
	parent INTEGER REFERENCES take ON DELETE RESTRICT,
	patch  TEXT NOT NULL,
	memory TEXT NOT NULL,
	note   TEXT NOT NULL,
	tags   TEXT NOT NULL CHECK (json_valid(tags)),
	saved  INTEGER NOT NULL
) STRICT;

-- The search index: rowid is the take. It is derived and can be rebuilt.
CREATE VIRTUAL TABLE search USING fts5 (
	note, tags, cue, job, modules,
	tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3'
);

CREATE TRIGGER cue_renamed AFTER UPDATE OF number, name ON cue BEGIN
	UPDATE search SET cue = NEW.number || ' ' || NEW.name
		WHERE rowid IN (SELECT id FROM take WHERE cue = NEW.id);
END;

CREATE TRIGGER cue_moved AFTER UPDATE OF job ON cue WHEN NEW.job <> OLD.job BEGIN
	UPDATE search SET job = (SELECT name FROM job WHERE id = NEW.job)
		WHERE rowid IN (SELECT id FROM take WHERE cue = NEW.id);
END;

CREATE TRIGGER job_renamed AFTER UPDATE OF name ON job BEGIN
	UPDATE search SET job = NEW.name
		WHERE rowid IN (SELECT take.id FROM take JOIN cue ON cue.id = take.cue WHERE cue.job = NEW.id);
END;

-- A take is immutable, whoever writes: these hold for any SQLite tool. The
-- insert triggers are there because INSERT OR REPLACE removes the old row
-- without firing its delete trigger.
CREATE TRIGGER take_update BEFORE UPDATE ON take BEGIN
	SELECT RAISE(ABORT, 'a take is immutable: it cannot be changed');
END;
CREATE TRIGGER take_delete BEFORE DELETE ON take BEGIN
	SELECT RAISE(ABORT, 'a take is immutable: it cannot be removed');
END;
CREATE TRIGGER take_replace BEFORE INSERT ON take
	WHEN EXISTS (SELECT 1 FROM take WHERE id = NEW.id OR (cue = NEW.cue AND number = NEW.number)) BEGIN
	SELECT RAISE(ABORT, 'a take is immutable: it cannot be replaced');
END;

CREATE TRIGGER audition_update BEFORE UPDATE ON audition BEGIN
	SELECT RAISE(ABORT, 'a take is immutable: its audition cannot be changed');
END;
CREATE TRIGGER audition_delete BEFORE DELETE ON audition BEGIN
	SELECT RAISE(ABORT, 'a take is immutable: its audition cannot be removed');
END;
CREATE TRIGGER audition_replace BEFORE INSERT ON audition
	WHEN EXISTS (SELECT 1 FROM audition WHERE take = NEW.take) BEGIN
	SELECT RAISE(ABORT, 'a take is immutable: its audition cannot be replaced');
END;

CREATE TRIGGER take_recording_update BEFORE UPDATE ON take_recording BEGIN
	SELECT RAISE(ABORT, 'a take is immutable: its recordings cannot be changed');
END;
CREATE TRIGGER take_recording_delete BEFORE DELETE ON take_recording BEGIN
	SELECT RAISE(ABORT, 'a take is immutable: its recordings cannot be removed');
END;
-- The audition is written last: once it stands, the page is closed.
CREATE TRIGGER take_recording_insert BEFORE INSERT ON take_recording
	WHEN EXISTS (SELECT 1 FROM audition WHERE take = NEW.take)
	OR EXISTS (SELECT 1 FROM take_recording WHERE take = NEW.take AND recording = NEW.recording) BEGIN
	SELECT RAISE(ABORT, 'a take is immutable: its recordings cannot be added to or replaced');
END;

CREATE TRIGGER recording_update BEFORE UPDATE ON recording BEGIN
	SELECT RAISE(ABORT, 'a recording is immutable: it cannot be changed');
END;
CREATE TRIGGER recording_delete BEFORE DELETE ON recording
	WHEN EXISTS (SELECT 1 FROM take_recording WHERE recording = OLD.sha256) BEGIN
	SELECT RAISE(ABORT, 'a take plays this recording: it cannot be removed');
END;
CREATE TRIGGER recording_replace BEFORE INSERT ON recording
	WHEN EXISTS (SELECT 1 FROM recording WHERE sha256 = NEW.sha256) BEGIN
	SELECT RAISE(ABORT, 'a recording is immutable: it cannot be replaced');
END;
