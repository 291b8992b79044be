-- What an instructor keeps: the settings, the questions, the sets, and what was
-- worked lately. Times are milliseconds since 1970 in UTC.

-- +goose Up

-- "Halv" in ASCII: by this number a file is known as ours.
PRAGMA application_id = 1214344310;

CREATE TABLE settings (
	id          INTEGER PRIMARY KEY CHECK (id = 1),
	course      TEXT    NOT NULL,
	section     TEXT    NOT NULL,
	conventions TEXT    NOT NULL, -- the file of conventions, as a class keeps it
	letter      INTEGER NOT NULL CHECK (letter IN (0, 1))
) STRICT;

-- AUTOINCREMENT: the number of what was deleted is not given again, so that an
-- old page cannot delete or change what came after.
CREATE TABLE questions (
	id      INTEGER PRIMARY KEY AUTOINCREMENT,
	text    TEXT    NOT NULL,
	medium  TEXT    NOT NULL, -- '' where none is stated
	note    TEXT    NOT NULL,
	created INTEGER NOT NULL
) STRICT;

-- The JSON comes last: a list then never reads its pages.
CREATE TABLE sets (
	id      INTEGER PRIMARY KEY AUTOINCREMENT,
	title   TEXT    NOT NULL,
	count   INTEGER NOT NULL, -- questions in each version
	version INTEGER NOT NULL, -- versions
	created INTEGER NOT NULL,
	changed INTEGER NOT NULL,
	turn    INTEGER NOT NULL, -- counts the changes of all sets: the order of those within one millisecond
	json    TEXT    NOT NULL
) STRICT;

CREATE TABLE history (
	id     INTEGER PRIMARY KEY AUTOINCREMENT,
	text   TEXT    NOT NULL,
	medium TEXT    NOT NULL,
	at     INTEGER NOT NULL,
	UNIQUE (text, medium)
) STRICT;
