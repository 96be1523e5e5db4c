-- Jobs and everything that was made of them. Rows are only added; what is updated is derived from them: what a job is
-- called now, and which revisions are open.

CREATE TABLE jobs (
    id     TEXT PRIMARY KEY,
    name   TEXT NOT NULL, -- this and what follows: of the revision that was saved last
    owner  TEXT NOT NULL,
    system TEXT NOT NULL,
    words  TEXT NOT NULL,
    author TEXT NOT NULL,
    saved  INTEGER NOT NULL -- milliseconds since 1970
) STRICT;

CREATE TABLE contents (
    hash TEXT PRIMARY KEY, -- SHA-256 of the text
    size INTEGER NOT NULL, -- of the text
    text BLOB NOT NULL     -- gzip
) STRICT;

CREATE TABLE revisions (
    seq    INTEGER PRIMARY KEY, -- 1, 2, 3 without a gap, over all jobs
    id     TEXT NOT NULL UNIQUE,
    job    TEXT NOT NULL REFERENCES jobs (id),
    hash   TEXT NOT NULL REFERENCES contents (hash),
    author TEXT NOT NULL,
    device TEXT NOT NULL,
    note   TEXT NOT NULL,
    at     INTEGER NOT NULL,
    open   INTEGER NOT NULL -- 1: nothing was made from it yet, it is a head of its job
) STRICT;
CREATE INDEX revisions_of_job ON revisions (job, seq);
CREATE INDEX revisions_open ON revisions (job, seq) WHERE open = 1;

CREATE TABLE parents (
    revision TEXT NOT NULL REFERENCES revisions (id),
    place    INTEGER NOT NULL, -- 0 or 1
    parent   TEXT NOT NULL REFERENCES revisions (id),
    PRIMARY KEY (revision, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE attachments (
    sha256 TEXT PRIMARY KEY,
    size   INTEGER NOT NULL,
    bytes  BLOB NOT NULL
) STRICT;

-- Which files a content names, whether they are here or not.
CREATE TABLE named (
    hash   TEXT NOT NULL REFERENCES contents (hash),
    sha256 TEXT NOT NULL,
    PRIMARY KEY (hash, sha256)
) STRICT, WITHOUT ROWID;

-- Plans that were issued: bytes, never derived again.
CREATE TABLE issued (
    seq      INTEGER PRIMARY KEY,
    id       TEXT NOT NULL UNIQUE,
    job      TEXT NOT NULL REFERENCES jobs (id),
    revision TEXT NOT NULL REFERENCES revisions (id),
    hash     TEXT NOT NULL, -- of the job's content
    name     TEXT NOT NULL,
    author   TEXT NOT NULL,
    core     TEXT NOT NULL, -- version of the core that made the plan
    at       INTEGER NOT NULL,
    plan     BLOB NOT NULL, -- gzip
    plan_sha256 TEXT NOT NULL,
    plan_size   INTEGER NOT NULL,
    UNIQUE (job, name)
) STRICT;

-- One row for everything that happened, for whoever asks what is new.
CREATE TABLE changes (
    seq INTEGER PRIMARY KEY, -- 1, 2, 3 without a gap
    job TEXT NOT NULL REFERENCES jobs (id)
) STRICT;
