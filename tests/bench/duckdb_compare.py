#!/usr/bin/env python3
"""Imports and judges one folder of sheets twice: with fairdraw, and in SQL with DuckDB.

    python3 tests/bench/duckdb_compare.py target/release/fairdraw SHEETS

DuckDB (https://duckdb.org, `pip install duckdb`) is a fast analytical database, so it shows
what a million draws cost when nothing but set-wise SQL is done with them. Both read the same
CSV files, judge, and store the outcomes in a file of their own, both on the threads of
this machine.

The SQL judges 23 of the 25 rules by the scoring contract: all but running-or-hot and
point-suited, which need viscosity at temperature. It knows no refusals, no rejects, no zones,
no rulebook and no audit trail, and it cannot be stopped half-way. For the sheets of
`fairdraw demo`, which hold nothing to refuse, that makes no difference to the counts: the
script compares, rule by rule, how many draws each side calls broken and unrecorded, and
fails if they differ.
"""

import json
import os
import subprocess
import sys
import tempfile
import time

import duckdb

SHEETS = """
CREATE TABLE points AS SELECT *, coalesce(agreed, '') = 'yes' AS is_agreed
  FROM read_csv('{sheets}/points.csv', all_varchar = true);
CREATE TABLE draws AS SELECT
    coalesce(draw_id, coalesce(bottle_id, '') || '@' || point_id || '@' || drawn_at) AS id,
    bottle_id, point_id, technician_id, fluid, pair_of, set_id, purge_stage, method, looks,
    epoch(drawn_at::TIMESTAMPTZ)::BIGINT AS drawn, epoch(recorded_at::TIMESTAMPTZ)::BIGINT AS recorded,
    epoch(registered_at::TIMESTAMPTZ)::BIGINT AS registered,
    epoch(dispatched_at::TIMESTAMPTZ)::BIGINT AS dispatched,
    epoch(received_at::TIMESTAMPTZ)::BIGINT AS received,
    machine_hours::DOUBLE AS machine_hours, oil_hours::DOUBLE AS oil_hours,
    flushed_ml::DOUBLE AS flushed_ml, tube_mark_cm::DOUBLE AS tube_mark_cm,
    fill_pct::DOUBLE AS fill_pct, coalesce(fill_no, '1') = '2' AS second_fill,
    point_cleaned, tube_new, bottle_ok, capped_at_once, safety_confirmed
  FROM read_csv('{sheets}/draws.csv', all_varchar = true);
"""

# The previous draw: the latest earlier first fill, of equals the one of greatest identity; on
# the same compartment, or for tanks and grease at the same point. A second fill passes over
# the draws that bear its first bottle, which is settled apart, since there are few.
SURROUNDINGS = """
CREATE TABLE laid_out AS SELECT d.*, p.compartment_id, p.kind, p.place, p.is_agreed,
    CASE WHEN p.kind IN ('tank', 'grease') THEN 'p' || d.point_id ELSE 'c' || p.compartment_id END AS body,
    p.method AS agreed_method, p.tube_mark_cm::DOUBLE AS agreed_mark,
    p.interval_h::DOUBLE AS interval_h, p.interval_days::DOUBLE AS interval_days,
    pi() / 4 * (p.tube_bore_mm::DOUBLE / 10) ** 2 * p.tube_length_cm::DOUBLE AS tube_ml,
    p.tube_bore_mm IS NULL AND p.tube_length_cm IS NULL AS no_tube,
    p.dead_extra_ml::DOUBLE AS extra_ml,
    bool_or(p.is_agreed) OVER (PARTITION BY p.compartment_id) AS has_agreed
  FROM draws d JOIN points p USING (point_id);

CREATE TABLE bodies AS
  SELECT 'c' || compartment_id AS body, * EXCLUDE body FROM laid_out WHERE NOT second_fill
  UNION ALL SELECT 'p' || point_id AS body, * EXCLUDE body FROM laid_out WHERE NOT second_fill;
CREATE TABLE firsts AS SELECT body, drawn,
    arg_max(struct_pack(point_id, method, machine_hours, bottle_id), id) AS it
  FROM bodies GROUP BY body, drawn;

CREATE TABLE previous AS
  SELECT d.id, f.drawn AS p_drawn, f.it AS p
    FROM laid_out d ASOF LEFT JOIN firsts f ON d.body = f.body AND d.drawn > f.drawn
    WHERE NOT d.second_fill OR d.pair_of IS NULL
  UNION ALL
  SELECT d.id, max(f.drawn), arg_max(struct_pack(f.point_id, f.method, f.machine_hours, f.bottle_id), (f.drawn, f.id))
    FROM laid_out d LEFT JOIN bodies f
      ON d.body = f.body AND d.drawn > f.drawn AND f.bottle_id IS DISTINCT FROM d.pair_of
    WHERE d.second_fill AND d.pair_of IS NOT NULL GROUP BY d.id;

CREATE TABLE bearers AS SELECT bottle_id, count(*) AS bearers FROM draws
  WHERE bottle_id IS NOT NULL GROUP BY bottle_id;
CREATE TABLE seconds AS SELECT compartment_id, pair_of, max(drawn) AS last_drawn,
    max(drawn) FILTER (dispatched IS NOT NULL) AS last_sent
  FROM laid_out WHERE second_fill AND pair_of IS NOT NULL GROUP BY ALL;
CREATE TABLE levels AS SELECT d.id, count(DISTINCT m.place) = 3 AS all_levels
  FROM laid_out d LEFT JOIN laid_out m ON d.set_id = m.set_id AND d.compartment_id = m.compartment_id
    AND abs(d.drawn - m.drawn) <= 86400 AND m.place IN ('tank-upper', 'tank-middle', 'tank-lower')
  WHERE d.set_id IS NOT NULL GROUP BY d.id;
"""

OIL = "kind IN ('circulating', 'sump')"
LIQUID = "kind <> 'grease'"


def confirmed(column):
    return f"CASE {column} WHEN 'yes' THEN 'm' WHEN 'no' THEN 'b' ELSE 'u' END"


# For each rule: where its kinds allow it, and what it answers: met, broken, unrecorded, or
# nothing where it does not apply.
RULES = {
    "flush-met": (OIL, """CASE WHEN dead_ml IS NULL OR flushed_ml IS NULL THEN 'u'
        WHEN flushed_ml >= 5 * dead_ml * (1 - 1e-9) THEN 'm' ELSE 'b' END"""),
    "same-point": (OIL, """CASE WHEN is_agreed THEN 'm' WHEN has_agreed THEN 'b'
        WHEN p_drawn IS NULL THEN NULL WHEN p.point_id = point_id THEN 'm' ELSE 'b' END"""),
    "same-method": ("true", """CASE WHEN method IS NULL THEN 'u'
        WHEN agreed_method IS NOT NULL THEN if(method = agreed_method, 'm', 'b')
        WHEN p.method IS NULL THEN NULL WHEN method = p.method THEN 'm' ELSE 'b' END"""),
    "point-cleaned": ("true", confirmed("point_cleaned")),
    "tube-depth": ("kind = 'sump' AND method = 'tube-pump'", """CASE WHEN agreed_mark IS NULL THEN NULL
        WHEN tube_mark_cm IS NULL THEN 'u'
        WHEN abs(tube_mark_cm - agreed_mark) <= 5 * (1 + 1e-9) THEN 'm' ELSE 'b' END"""),
    "fresh-tube": ("method = 'tube-pump'", confirmed("tube_new")),
    "bottle-fit": ("true", confirmed("bottle_ok")),
    "capped-at-once": ("true", confirmed("capped_at_once")),
    "fill-level": (LIQUID, """CASE WHEN fill_pct IS NULL THEN 'u'
        WHEN fill_pct BETWEEN 50 AND 80 THEN 'm' ELSE 'b' END"""),
    "oil-worked-in": (OIL, """CASE WHEN oil_hours IS NULL THEN 'u'
        WHEN oil_hours >= 24 THEN 'm' ELSE 'b' END"""),
    "age-at-dispatch": ("true", """CASE
        WHEN dispatched IS NOT NULL THEN CASE WHEN dispatched < drawn THEN 'u'
            WHEN dispatched - drawn <= 172800 THEN 'm' ELSE 'b' END
        WHEN received - drawn BETWEEN 0 AND 172800 THEN 'm' ELSE 'u' END"""),
    "looked-at": (LIQUID, "if(looks IS NULL, 'u', 'm')"),
    "second-fill": (LIQUID, """CASE
        WHEN second_fill OR looks IS NULL
            OR NOT regexp_matches(looks, 'cloudy|emulsified|sediment|metal|water') THEN NULL
        WHEN bottle_id IS NULL THEN 'u'
        WHEN last_drawn IS NULL OR last_drawn < drawn THEN 'b'
        WHEN NOT contains(looks, 'metal') THEN 'm'
        WHEN dispatched IS NOT NULL AND last_sent >= drawn THEN 'm' ELSE 'u' END"""),
    "level-set": ("kind = 'tank'", "CASE WHEN set_id IS NULL THEN 'u' WHEN all_levels THEN 'm' ELSE 'b' END"),
    "grease-midway": ("kind = 'grease'", """CASE WHEN method IS NULL THEN 'u'
        WHEN method = 'grease-needle' THEN 'm' WHEN method <> 'grease-purge' THEN 'b'
        WHEN purge_stage IS NULL THEN 'u' WHEN purge_stage = 'middle' THEN 'm' ELSE 'b' END"""),
    "label-complete": ("true", f"""CASE WHEN bottle_id IS NULL OR fluid IS NULL
        OR {OIL} AND (machine_hours IS NULL OR oil_hours IS NULL) THEN 'b' ELSE 'm' END"""),
    "bottle-unique": ("true", "CASE WHEN bottle_id IS NULL THEN 'u' WHEN bearers > 1 THEN 'b' ELSE 'm' END"),
    "times-in-order": ("true", """CASE WHEN dispatched < drawn OR received < drawn
        OR received < dispatched OR recorded < drawn THEN 'b'
        WHEN dispatched IS NULL AND received IS NULL THEN 'u' ELSE 'm' END"""),
    "hours-forward": (OIL, """CASE WHEN machine_hours IS NULL THEN 'u'
        WHEN p.machine_hours IS NULL THEN NULL
        WHEN machine_hours < p.machine_hours THEN 'b' ELSE 'm' END"""),
    "registered": ("true", "if(registered IS NULL, 'u', 'm')"),
    "age-at-receipt": ("true", """CASE WHEN received IS NULL OR received < drawn THEN 'u'
        WHEN received - drawn <= 604800 THEN 'm' ELSE 'b' END"""),
    "interval-kept": ("true", """CASE
        WHEN p_drawn IS NULL OR (interval_h IS NULL AND interval_days IS NULL) THEN NULL
        WHEN interval_h IS NOT NULL AND machine_hours IS NOT NULL AND p.machine_hours IS NOT NULL THEN CASE
            WHEN machine_hours < p.machine_hours THEN 'u'
            WHEN machine_hours - p.machine_hours <= interval_h * 1.1 * (1 + 1e-9) THEN 'm' ELSE 'b' END
        WHEN interval_days IS NULL THEN 'u'
        WHEN (drawn - p_drawn) / 86400 <= interval_days * 1.1 * (1 + 1e-9) THEN 'm' ELSE 'b' END"""),
    "safety-confirmed": ("true", confirmed("safety_confirmed")),
}

DEAD = "CASE WHEN no_tube THEN extra_ml ELSE tube_ml + coalesce(extra_ml, 0) END AS dead_ml"


def judged_by_duckdb(sheets, folder):
    """Imports, judges and stores; gives back seconds for each and counts by rule."""
    base = duckdb.connect(os.path.join(folder, "duck.db"))
    base.execute(f"SET threads = {os.cpu_count()}")
    start = time.perf_counter()
    base.execute(SHEETS.format(sheets=sheets.replace("'", "''")))
    imported = time.perf_counter()
    base.execute(SURROUNDINGS)
    columns = ", ".join(
        f"""CASE WHEN {where} THEN {answer} END AS "{rule}" """ for rule, (where, answer) in RULES.items()
    )
    base.execute(f"""CREATE TABLE outcomes AS
        WITH situations AS (SELECT *, {DEAD} FROM laid_out JOIN previous USING (id)
          LEFT JOIN bearers USING (bottle_id) LEFT JOIN levels USING (id)
          LEFT JOIN seconds ON laid_out.compartment_id = seconds.compartment_id
            AND laid_out.bottle_id = seconds.pair_of)
        SELECT id, {columns} FROM situations""")
    base.execute("CHECKPOINT")
    judged = time.perf_counter()
    counts = {}
    for rule in RULES:
        row = base.execute(f"""SELECT count("{rule}"), count(*) FILTER ("{rule}" = 'b'),
            count(*) FILTER ("{rule}" = 'u') FROM outcomes""").fetchone()
        counts[rule] = tuple(row)
    draws = base.execute("SELECT count(*) FROM outcomes").fetchone()[0]
    return draws, imported - start, judged - imported, counts


def judged_by_fairdraw(program, sheets, folder):
    """Imports and judges in one go; gives back the seconds and counts by rule."""
    file = os.path.join(folder, "programme.db")
    environment = {key: value for key, value in os.environ.items() if key != "FAIRDRAW_PROGRAMME"}
    start = time.perf_counter()
    subprocess.run([program, "-p", file, "import", sheets], check=True, env=environment,
                   stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    seconds = time.perf_counter() - start
    shares = subprocess.run([program, "-p", file, "share", "--by", "rule", "--format", "json"],
                            check=True, env=environment, capture_output=True).stdout
    counts = {row["key"]: (row["draws"], row["unrepresentative"], row["unproven"]) for row in json.loads(shares)}
    return seconds, counts


def main():
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    program, sheets = sys.argv[1:]
    with tempfile.TemporaryDirectory() as folder:
        seconds, ours = judged_by_fairdraw(program, sheets, folder)
        draws, importing, judging, theirs = judged_by_duckdb(sheets, folder)
        sizes = {name: os.path.getsize(os.path.join(folder, name)) / 1e6 for name in ("programme.db", "duck.db")}
    print(f"{draws} draws, {os.cpu_count()} threads")
    print(f"fairdraw: import, 25 rules, verdicts, stored: {seconds:.2f} s, {sizes['programme.db']:.0f} MB")
    print(f"DuckDB {duckdb.__version__}: import {importing:.2f} s + {len(RULES)} rules, stored: {judging:.2f} s"
          f" = {importing + judging:.2f} s, {sizes['duck.db']:.0f} MB")
    differ = [rule for rule in RULES if ours.get(rule, (0, 0, 0)) != theirs[rule]]
    for rule in differ:
        print(f"{rule}: fairdraw {ours.get(rule)}, DuckDB {theirs[rule]} (applies, broken, unrecorded)")
    if differ:
        sys.exit("the two do not agree")
    print(f"both agree on {len(RULES)} rules: draws they apply to, broken, unrecorded")


if __name__ == "__main__":
    main()
