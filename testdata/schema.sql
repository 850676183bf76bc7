CREATE TABLE batch (
    seq       INTEGER PRIMARY KEY AUTOINCREMENT, -- order in which imports came
    shop      TEXT NOT NULL,
    id        TEXT NOT NULL,
    list      INTEGER NOT NULL REFERENCES list (id),
    version   INTEGER NOT NULL,
    file      TEXT NOT NULL,
    hash      TEXT NOT NULL,
    standing  TEXT NOT NULL,
    state     TEXT NOT NULL CHECK (state IN ('staging', 'committed', 'undone')),
    leftover  INTEGER NOT NULL, -- 1 while rows of this version may have to be removed
    revision  INTEGER NOT NULL,
    at        INTEGER NOT NULL,
    who       TEXT NOT NULL,
    device    TEXT NOT NULL,
    counts    TEXT NOT NULL,    -- JSON
    keys      INTEGER NOT NULL, -- set of changed part keys, see change_key
    first_row INTEGER NOT NULL, -- its sheet_rows; one import at a time makes them one range
    last_row  INTEGER NOT NULL, -- below first_row while not known
    UNIQUE (shop, id)
) STRICT;

CREATE INDEX batch_list ON batch (list, version);

CREATE TABLE change (
    shop     TEXT NOT NULL,
    revision INTEGER NOT NULL,
    keys     INTEGER NOT NULL,
    PRIMARY KEY (shop, revision)
) STRICT, WITHOUT ROWID;

CREATE TABLE change_key (
    keys INTEGER NOT NULL,
    key  TEXT NOT NULL,
    PRIMARY KEY (keys, key)
) STRICT, WITHOUT ROWID;

CREATE TABLE engine (
    pos    INTEGER PRIMARY KEY,
    id     ANY NOT NULL,
    source INTEGER NOT NULL,
    cell   TEXT,
    type   TEXT,
    key    TEXT,
    maker  TEXT,
    note   TEXT,
    code   TEXT, -- as printed
    family TEXT
) STRICT;

CREATE TABLE fitment (
    pos             INTEGER PRIMARY KEY,
    id              ANY NOT NULL,
    source          INTEGER NOT NULL,
    cell            TEXT,
    type            TEXT,
    key             TEXT,
    maker           TEXT,
    note            TEXT,
    none            INTEGER, -- 1: these vehicles have no such part
    scope_maker     TEXT,
    model           TEXT,
    model_code      TEXT,
    emission_prefix TEXT,
    engine          TEXT,
    side            TEXT,
    transmission    TEXT,
    drive           TEXT,
    turbo           TEXT,
    market          TEXT,
    options         TEXT,    -- JSON object: every other fact
    serial_from     INTEGER, -- NULL: open
    serial_to       INTEGER,
    serial_width    INTEGER,
    built_from      INTEGER, -- year * 12 + month - 1; NULL: open
    built_to        INTEGER,
    position        TEXT,
    quantity        INTEGER
) STRICT;

CREATE TABLE fitment_way (
    way   INTEGER NOT NULL, -- 1 model code, 2 engine, 3 model
    value TEXT NOT NULL,
    type  TEXT NOT NULL,
    pos   INTEGER NOT NULL, -- fitment.pos
    PRIMARY KEY (way, value, type, pos)
) STRICT, WITHOUT ROWID;

CREATE TABLE link (
    pos        INTEGER PRIMARY KEY,
    id         ANY NOT NULL,
    source     INTEGER NOT NULL,
    cell       TEXT,
    type       TEXT,
    key        TEXT, -- the first number
    maker      TEXT,
    note       TEXT,
    relation   TEXT,
    b_key      TEXT, -- the second number
    b_maker    TEXT,
    printed_a  TEXT,
    printed_b  TEXT,
    both_ways  INTEGER, -- NULL unknown, 1 no, 2 yes
    kit        INTEGER,
    conditions TEXT,    -- JSON
    changes    TEXT,    -- JSON
    with_set   TEXT,    -- JSON
    reason     TEXT
) STRICT;

CREATE TABLE list (
    id           INTEGER PRIMARY KEY,
    shop         TEXT NOT NULL,
    name         TEXT NOT NULL,
    current      INTEGER NOT NULL, -- version that counts, 0 for none
    next_version INTEGER NOT NULL, -- never given out twice
    UNIQUE (shop, name)
) STRICT;

CREATE TABLE meta (
    shop  TEXT NOT NULL,
    name  TEXT NOT NULL, -- revision: of the whole book; next_keys: see change_key
    value INTEGER NOT NULL,
    PRIMARY KEY (shop, name)
) STRICT, WITHOUT ROWID;

CREATE TABLE migration (number INTEGER PRIMARY KEY, name TEXT NOT NULL, checksum TEXT NOT NULL, at INTEGER NOT NULL) STRICT;

CREATE TABLE movement (
    shop      TEXT NOT NULL,
    seq       INTEGER NOT NULL, -- order of booking
    id        TEXT NOT NULL,
    once      ANY NOT NULL,     -- idempotency key: 16 bytes, or a text
    kind      TEXT NOT NULL,
    key       TEXT NOT NULL,
    maker     TEXT NOT NULL,
    bin       TEXT NOT NULL,
    condition TEXT NOT NULL,
    printed   TEXT,
    on_hand   INTEGER NOT NULL,
    held      INTEGER NOT NULL,
    counted   INTEGER,          -- the number seen, for a count
    job       TEXT,
    reason    TEXT,
    batch     TEXT,
    reverses  INTEGER,          -- seq of the movement that this one takes back
    day       TEXT,
    at        INTEGER NOT NULL,
    who       TEXT,
    device    TEXT,
    PRIMARY KEY (shop, seq)
) STRICT, WITHOUT ROWID;

CREATE INDEX movement_batch ON movement (shop, batch) WHERE batch IS NOT NULL;

CREATE INDEX movement_bin ON movement (shop, key, maker, bin, condition);

CREATE TRIGGER movement_fixed BEFORE UPDATE ON movement
BEGIN SELECT RAISE(ABORT, 'the ledger is only added to'); END;

CREATE TRIGGER movement_kept BEFORE DELETE ON movement
BEGIN SELECT RAISE(ABORT, 'the ledger is only added to'); END;

CREATE UNIQUE INDEX movement_once ON movement (shop, once);

CREATE TABLE part (
    pos     INTEGER PRIMARY KEY,
    id      ANY NOT NULL,
    source  INTEGER NOT NULL,
    cell    TEXT,
    type    TEXT,
    key     TEXT,
    maker   TEXT,
    note    TEXT,
    printed TEXT,
    printed_maker TEXT,
    role    TEXT,
    name    TEXT
) STRICT;

CREATE TABLE posting (
    pos       INTEGER PRIMARY KEY,
    key       TEXT NOT NULL,
    maker     TEXT NOT NULL,
    bin       TEXT NOT NULL,
    condition TEXT NOT NULL,
    printed   TEXT,
    quantity  INTEGER, -- NULL: not counted
    held      INTEGER NOT NULL,
    job       TEXT NOT NULL,
    day       TEXT
) STRICT;

CREATE TABLE row_hash (
    hash      ANY NOT NULL,
    sheet_row INTEGER NOT NULL,
    PRIMARY KEY (hash, sheet_row)
) STRICT, WITHOUT ROWID;

CREATE TABLE row_key (
    key       TEXT NOT NULL,    -- part key that statements of this row name
    sheet_row INTEGER NOT NULL,
    kinds     INTEGER NOT NULL, -- in which tables: 1 part, 2 fitment, 4 link, 8 value
    PRIMARY KEY (key, sheet_row)
) STRICT, WITHOUT ROWID;

CREATE TABLE sheet (
    id   INTEGER PRIMARY KEY,
    list INTEGER NOT NULL REFERENCES list (id),
    file TEXT NOT NULL,
    name TEXT NOT NULL,
    UNIQUE (list, file, name)
) STRICT;

CREATE TABLE sheet_row (
    id    INTEGER PRIMARY KEY,
    list  INTEGER NOT NULL,
    sheet INTEGER NOT NULL REFERENCES sheet (id),
    line  INTEGER NOT NULL, -- as it stands in the file, from 1
    since INTEGER NOT NULL,
    until INTEGER NOT NULL,
    hash  ANY NOT NULL,     -- of the row as read
    says  BLOB NOT NULL,    -- of the ids and cells of its statements, and its postings
    text  TEXT              -- the row as read
) STRICT;

CREATE INDEX sheet_row_ended ON sheet_row (list, until) WHERE until < 9223372036854775807;

CREATE INDEX sheet_row_place ON sheet_row (sheet, line);

CREATE TABLE source (
    n           INTEGER NOT NULL, -- statements name a source by this number
    since       INTEGER NOT NULL,
    until       INTEGER NOT NULL,
    list        INTEGER NOT NULL REFERENCES list (id),
    id          ANY NOT NULL, -- 16 bytes, or a text
    shop        TEXT NOT NULL,
    list_name   TEXT NOT NULL,
    name        TEXT NOT NULL,
    standing    TEXT NOT NULL,
    manner      TEXT NOT NULL,
    copied_from ANY,
    PRIMARY KEY (n, since)
) STRICT, WITHOUT ROWID;

CREATE INDEX source_id ON source (list, id);

CREATE TABLE value (
    pos       INTEGER PRIMARY KEY,
    id        ANY NOT NULL,
    source    INTEGER NOT NULL,
    cell      TEXT,
    type      TEXT,
    key       TEXT,
    maker     TEXT,
    note      TEXT,
    attribute TEXT,
    raw       TEXT,
    numbers   TEXT, -- decimals with blanks between
    words     TEXT, -- JSON
    doubt     TEXT,
    measured_by  TEXT,
    measured_how TEXT
) STRICT;

