-- What comes from site: records, photos, and the devices that may bring them. Records are only added.

CREATE TABLE records (
    n    INTEGER PRIMARY KEY,
    job  TEXT NOT NULL,    -- by its id: the job itself may come later
    seq  INTEGER NOT NULL, -- 1, 2, 3 without a gap within the job
    id   TEXT NOT NULL,
    hash BLOB NOT NULL,    -- SHA-256 of the text: two texts under one id are both kept
    text BLOB NOT NULL,    -- one line of JSON, as it came
    bringer TEXT NOT NULL, -- the device that brought it; empty: the office, or a file
    at   INTEGER NOT NULL,
    UNIQUE (job, seq),
    UNIQUE (job, id, hash)
) STRICT;

-- Which photos the records of a job name, whether they are here or not. Photos that are whole are attachments.
CREATE TABLE pictured (
    job    TEXT NOT NULL,
    sha256 TEXT NOT NULL,
    PRIMARY KEY (job, sha256)
) STRICT, WITHOUT ROWID;

-- Photos on their way, in pieces that follow on each other. They go when the photo is whole.
CREATE TABLE pieces (
    n      INTEGER PRIMARY KEY,
    sha256 TEXT NOT NULL, -- of the whole photo
    start  INTEGER NOT NULL,
    bytes  BLOB NOT NULL,
    at     INTEGER NOT NULL,
    UNIQUE (sha256, start)
) STRICT;

-- Codes by which one device each is let in.
CREATE TABLE enrolments (
    code   TEXT PRIMARY KEY, -- SHA-256 of it
    ends   INTEGER NOT NULL,
    device TEXT NOT NULL     -- that came in by it; empty: none yet
) STRICT;

CREATE TABLE devices (
    id    TEXT PRIMARY KEY,
    name  TEXT NOT NULL,
    token TEXT NOT NULL UNIQUE, -- SHA-256 of it
    let_in   INTEGER NOT NULL,  -- when it was last
    heard    INTEGER NOT NULL,  -- when it was last, to the minute
    shut_out INTEGER NOT NULL,  -- when it was; 0: it may come
    records  INTEGER NOT NULL   -- that it brought
) STRICT;

-- Changes tell of records, too, and of jobs that are not here yet.
CREATE TABLE changes_then (
    seq  INTEGER PRIMARY KEY, -- 1, 2, 3 without a gap
    job  TEXT NOT NULL,
    what INTEGER NOT NULL     -- 0: a revision or an issue, 1: records
) STRICT;
INSERT INTO changes_then (seq, job, what) SELECT seq, job, 0 FROM changes;
DROP TABLE changes;
ALTER TABLE changes_then RENAME TO changes;
