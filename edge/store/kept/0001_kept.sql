-- What can be made again from a content by the same core: plans, sheets, whole packs.

CREATE TABLE kept (
    hash  TEXT NOT NULL, -- of the job's content
    core  TEXT NOT NULL,
    name  TEXT NOT NULL,
    size  INTEGER NOT NULL,
    used  INTEGER NOT NULL, -- milliseconds since 1970
    bytes BLOB NOT NULL,
    PRIMARY KEY (hash, core, name)
) STRICT;
CREATE INDEX kept_by_use ON kept (used, size);
