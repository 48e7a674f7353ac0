"""The rules of the material book, said to the database itself.

Both engines keep the same five rules, whatever program writes:

* a place opens with an empty balance, and only a source may go below nothing;
* a line moves its place's balance, and no line joins a movement already written;
* a movement is let in last, if its lines balance, next in its holding's book and sealed
  on to the one before;
* movements, lines and places are never changed or removed.
"""

KEPT = ("records_movement", "records_line", "records_place")
"""Tables that only grow."""

SQLITE = [
    f"""
    CREATE TRIGGER {table}_no_{verb.lower()} BEFORE {verb} ON {table}
    BEGIN SELECT RAISE(ABORT, 'the book is never changed: undo it by its reverse'); END
    """
    for table in KEPT
    for verb in ("UPDATE", "DELETE")
] + [
    """
    CREATE TRIGGER records_place_opens AFTER INSERT ON records_place
    BEGIN
        INSERT INTO records_balance (place_id, grams, may_be_negative)
        VALUES (NEW.id, 0, NEW.kind IN ('grown', 'bought'));
    END
    """,
    """
    CREATE TRIGGER records_line_joins BEFORE INSERT ON records_line
    WHEN EXISTS (SELECT 1 FROM records_movement WHERE id = NEW.movement_id)
    BEGIN SELECT RAISE(ABORT, 'a written movement takes no more lines'); END
    """,
    """
    CREATE TRIGGER records_line_moves AFTER INSERT ON records_line
    BEGIN
        UPDATE records_balance SET grams = grams + NEW.grams
        WHERE place_id = NEW.place_id;
    END
    """,
    """
    CREATE TRIGGER records_movement_closes BEFORE INSERT ON records_movement
    BEGIN
        SELECT RAISE(ABORT, 'the lines of a movement must balance')
        WHERE (SELECT COUNT(*) < 2 OR SUM(grams) <> 0
               FROM records_line WHERE movement_id = NEW.id);
        SELECT RAISE(ABORT, 'a movement is sealed on to the last in its book')
        WHERE NEW.seq <> 1 + COALESCE((SELECT MAX(seq) FROM records_movement
                                       WHERE holding_id = NEW.holding_id), 0)
           OR NEW.previous_seal <> COALESCE((SELECT seal FROM records_movement
                                             WHERE holding_id = NEW.holding_id
                                             ORDER BY seq DESC LIMIT 1), '');
    END
    """,
]

POSTGRESQL = [
    """
    CREATE FUNCTION records_refuse() RETURNS trigger LANGUAGE plpgsql AS $$
    BEGIN RAISE EXCEPTION 'the book is never changed: undo it by its reverse'; END $$
    """,
    """
    CREATE FUNCTION records_place_opens() RETURNS trigger LANGUAGE plpgsql AS $$
    BEGIN
        INSERT INTO records_balance (place_id, grams, may_be_negative)
        VALUES (NEW.id, 0, NEW.kind IN ('grown', 'bought'));
        RETURN NULL;
    END $$
    """,
    """
    CREATE FUNCTION records_line_moves() RETURNS trigger LANGUAGE plpgsql AS $$
    BEGIN
        IF EXISTS (SELECT 1 FROM records_movement WHERE id = NEW.movement_id) THEN
            RAISE EXCEPTION 'a written movement takes no more lines';
        END IF;
        UPDATE records_balance SET grams = grams + NEW.grams
        WHERE place_id = NEW.place_id;
        RETURN NULL;
    END $$
    """,
    """
    CREATE FUNCTION records_movement_closes() RETURNS trigger LANGUAGE plpgsql AS $$
    DECLARE last records_movement;
    BEGIN
        IF (SELECT COUNT(*) < 2 OR SUM(grams) <> 0
            FROM records_line WHERE movement_id = NEW.id) THEN
            RAISE EXCEPTION 'the lines of a movement must balance';
        END IF;
        SELECT * INTO last FROM records_movement
        WHERE holding_id = NEW.holding_id ORDER BY seq DESC LIMIT 1;
        IF NEW.seq <> 1 + COALESCE(last.seq, 0)
           OR NEW.previous_seal <> COALESCE(last.seal, '') THEN
            RAISE EXCEPTION 'a movement is sealed on to the last in its book';
        END IF;
        RETURN NEW;
    END $$
    """,
    """
    CREATE TRIGGER records_place_opens AFTER INSERT ON records_place
    FOR EACH ROW EXECUTE FUNCTION records_place_opens()
    """,
    """
    CREATE TRIGGER records_line_moves AFTER INSERT ON records_line
    FOR EACH ROW EXECUTE FUNCTION records_line_moves()
    """,
    """
    CREATE TRIGGER records_movement_closes BEFORE INSERT ON records_movement
    FOR EACH ROW EXECUTE FUNCTION records_movement_closes()
    """,
] + [
    f"""
    CREATE TRIGGER {table}_no_change BEFORE UPDATE OR DELETE OR TRUNCATE ON {table}
    FOR EACH STATEMENT EXECUTE FUNCTION records_refuse()
    """
    for table in KEPT
]

CORRECTIONS = {
    "sqlite": [
        f"""
        CREATE TRIGGER records_correction_no_{verb.lower()}
        BEFORE {verb} ON records_correction
        BEGIN SELECT RAISE(ABORT, 'what was put right stays written'); END
        """
        for verb in ("UPDATE", "DELETE")
    ],
    "postgresql": [
        """
        CREATE TRIGGER records_correction_no_change
        BEFORE UPDATE OR DELETE OR TRUNCATE ON records_correction
        FOR EACH STATEMENT EXECUTE FUNCTION records_refuse()
        """
    ],
}
"""What a fact said before it was put right is never changed either."""


PAPERS = {
    "sqlite": [
        f"""
        CREATE TRIGGER records_paper_no_{verb.lower()} BEFORE {verb} ON records_paper
        BEGIN SELECT RAISE(ABORT, 'an issued paper never changes: correct it'); END
        """
        for verb in ("UPDATE", "DELETE")
    ]
    + [
        """
        CREATE TRIGGER records_paper_numbered BEFORE INSERT ON records_paper
        BEGIN
            SELECT RAISE(ABORT, 'papers of a kind are numbered without a gap')
            WHERE NEW.number <> 1 + COALESCE((SELECT MAX(number) FROM records_paper
                                              WHERE holding_id = NEW.holding_id
                                                AND kind = NEW.kind), 0);
        END
        """
    ],
    "postgresql": [
        """
        CREATE FUNCTION records_paper_kept() RETURNS trigger LANGUAGE plpgsql AS $$
        BEGIN RAISE EXCEPTION 'an issued paper never changes: correct it'; END $$
        """,
        """
        CREATE FUNCTION records_paper_numbered() RETURNS trigger LANGUAGE plpgsql AS $$
        BEGIN
            IF NEW.number <> 1 + COALESCE((SELECT MAX(number) FROM records_paper
                                           WHERE holding_id = NEW.holding_id
                                             AND kind = NEW.kind), 0) THEN
                RAISE EXCEPTION 'papers of a kind are numbered without a gap';
            END IF;
            RETURN NEW;
        END $$
        """,
        """
        CREATE TRIGGER records_paper_no_change
        BEFORE UPDATE OR DELETE OR TRUNCATE ON records_paper
        FOR EACH STATEMENT EXECUTE FUNCTION records_paper_kept()
        """,
        """
        CREATE TRIGGER records_paper_numbered BEFORE INSERT ON records_paper
        FOR EACH ROW EXECUTE FUNCTION records_paper_numbered()
        """,
    ],
}
"""Issued papers stay as they are, and none is missing."""


def install(apps, schema_editor):
    """Say the rules to the database of a migration."""
    rules = {"sqlite": SQLITE, "postgresql": POSTGRESQL}
    for rule in rules[schema_editor.connection.vendor]:
        schema_editor.execute(rule, params=None)


def install_of_corrections(apps, schema_editor):
    for rule in CORRECTIONS[schema_editor.connection.vendor]:
        schema_editor.execute(rule, params=None)


def install_of_papers(apps, schema_editor):
    for rule in PAPERS[schema_editor.connection.vendor]:
        schema_editor.execute(rule, params=None)


def renew_of_corrections(apps, schema_editor):
    """Say them anew to a table that a migration may have made anew, without them."""
    on = {"sqlite": "", "postgresql": " ON records_correction"}
    for verb in ("no_update", "no_delete", "no_change"):
        where = on[schema_editor.connection.vendor]
        schema_editor.execute(
            f"DROP TRIGGER IF EXISTS records_correction_{verb}{where}", params=None
        )
    install_of_corrections(apps, schema_editor)
