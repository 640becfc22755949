-- The step to undo or to redo is found at once, however long a journal grows,
-- and decisions are counted without reading them.
CREATE INDEX step_by_state ON step (kind, subject, state, number);
CREATE INDEX value_keys ON value (kind, subject, key);
-- Says whose file this is: the letters "BkSt".
PRAGMA application_id = 0x426b5374;
