#!/usr/bin/env python3
"""Solves small orders a second way: every three-phase pattern, then an integer program by HiGHS.

Shares nothing with the planner: patterns are sets of count vectors, built from columns, levels
and sheets in turn, each cut down to the vectors that no other one contains. The integer program
over all of them has the true least cost. Run beside the planner:

    pip install highspy==1.16.0 numpy==2.4.6
    python3 tests/cutplan/referee.py [--planner "COMMAND"] tests/cutplan/class-05*.json ...

COMMAND reads an order on stdin and writes {"cost", "bound", ..}. Without it the rows show the
referee's value alone. Ends with 1 where the two differ.
"""

import argparse
import json
import shlex
import subprocess
import sys
import time
from fractions import Fraction
from math import gcd

import highspy
import numpy as np

MOST_PATTERNS = 60_000


class TooMany(Exception):
    """An order that is too large to list."""


def read(path):
    """The order in whole numbers: the kerf is added to every part and once to the sheet."""
    with open(path, encoding="utf-8") as file:
        order = json.load(file, parse_float=Fraction, parse_int=Fraction)
    kerf = order["kerf"]
    rows = [part for part in order["parts"] if part["quantity"] > 0]
    lengths = [1000 * (thing[side] + kerf) for thing in rows + order["stock"] for side in ("width", "height")]
    unit = 0
    for length in lengths:
        assert length.denominator == 1, "lengths have at most three places"
        unit = gcd(unit, int(length))
    size = lambda thing: tuple(int(1000 * (thing[side] + kerf)) // unit for side in ("width", "height"))
    items = []
    for row, part in enumerate(rows):
        w, h = size(part)
        items.append((row, w, h))
        if part["turnable"] and w != h:
            items.append((row, h, w))
    sheets = [(*size(sheet), int(sheet["cost"]), sheet["available"]) for sheet in order["stock"]]
    demand = np.array([int(part["quantity"]) for part in rows])
    return order, items, sheets, demand


def largest(vectors):
    """Those that no other vector contains."""
    vectors = np.unique(vectors, axis=0)
    # Sorted by sum, a vector can only be contained in a later one.
    vectors = vectors[np.argsort(-vectors.sum(axis=1), kind="stable")]
    kept = np.empty_like(vectors)
    count = 0
    for vector in vectors:
        if count == 0 or not (kept[:count] >= vector).all(axis=1).any():
            kept[count] = vector
            count += 1
            if count > MOST_PATTERNS:
                raise TooMany
    return kept[:count]


def fillings(pieces, length, demand):
    """All largest sums of pieces that fit `length`; pieces as size -> set of count vectors."""
    sizes = sorted(pieces)
    places = {0}
    for place in range(length + 1):
        if place in places:
            places.update(place + size for size in sizes if place + size <= length)
    best = {0: np.zeros((1, len(demand)), dtype=int)}
    last = best[0]
    for place in sorted(places - {0}):
        sums = [last]
        for size in sizes:
            if place - size in best:
                both = best[place - size][:, None, :] + pieces[size][None, :, :]
                sums.append(np.minimum(both, demand).reshape(-1, len(demand)))
        last = best[place] = largest(np.concatenate(sums))
    return last, best


def three_phases(items, width, height, demand):
    """Levels across the sheet, columns in a level, pieces of one width stacked in a column."""
    items = [item for item in items if item[1] <= width and item[2] <= height]
    unit = np.eye(len(demand), dtype=int)
    heights = {0}
    for place in range(height + 1):
        if place in heights:
            heights.update(place + h for _, _, h in items if place + h <= height)
    columns = {}
    for w in sorted({w for _, w, _ in items}):
        stacked = {}
        for row, wide, h in items:
            if wide == w:
                stacked.setdefault(h, []).append(unit[row])
        pieces = {h: largest(np.array(rows)) for h, rows in stacked.items()}
        columns[w] = fillings(pieces, height, demand)[1]
    levels = {}
    for h in sorted(heights - {0}):
        pieces = {}
        for w, best in columns.items():
            at = max(place for place in best if place <= h)
            if at > 0:
                pieces[w] = best[at]
        if pieces:
            levels[h] = fillings(pieces, width, demand)[0]
    return fillings(levels, height, demand)[0]


def patterns(items, sheet, demand):
    """Of both first directions."""
    w, h = sheet[:2]
    turned = [(row, high, wide) for row, wide, high in items]
    both = [three_phases(items, w, h, demand), three_phases(turned, h, w, demand)]
    return largest(np.concatenate(both))


def least_cost(sheets, listed, demand, seconds):
    """The integer program: cost and proven bound."""
    program = highspy.Highs()
    program.setOptionValue("output_flag", False)
    program.setOptionValue("time_limit", float(seconds))
    program.setOptionValue("mip_rel_gap", 0.0)
    program.setOptionValue("mip_abs_gap", 0.5)
    rows = len(demand)
    for quantity in demand:
        program.addRow(float(quantity), highspy.kHighsInf, 0, [], [])
    for _, _, _, available in sheets:
        most = highspy.kHighsInf if available is None else float(available)
        program.addRow(0.0, most, 0, [], [])
    column = 0
    for stock, (sheet, vectors) in enumerate(zip(sheets, listed)):
        for vector in vectors:
            at = [int(row) for row in np.nonzero(vector)[0]]
            values = [float(vector[row]) for row in at]
            program.addCol(float(sheet[2]), 0.0, highspy.kHighsInf, len(at) + 1, at + [rows + stock], values + [1.0])
            program.changeColIntegrality(column, highspy.HighsVarType.kInteger)
            column += 1
    program.run()
    info = program.getInfo()
    return info.objective_function_value, info.mip_dual_bound


def planner(command, path):
    with open(path, encoding="utf-8") as file:
        text = file.read()
    # The referee lists three phases: the planner is asked for the same.
    order = json.loads(text)
    order["max_stages"] = 3
    done = subprocess.run(shlex.split(command), input=json.dumps(order), capture_output=True, text=True, check=True)
    return json.loads(done.stdout)


def main():
    arguments = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    arguments.add_argument("--planner", help="a command that reads an order and writes its plan as JSON")
    arguments.add_argument("--seconds", type=float, default=300, help="time limit of the integer program")
    arguments.add_argument("orders", nargs="+")
    arguments = arguments.parse_args()
    print("order,patterns,listing seconds,referee cost,referee bound,solving seconds,planner cost,planner bound,equal")
    differ = False
    for path in arguments.orders:
        order, items, sheets, demand = read(path)
        start = time.perf_counter()
        try:
            listed = [patterns(items, sheet, demand) for sheet in sheets]
        except TooMany:
            print(f"{order['name']},more than {MOST_PATTERNS},,,,,,,", flush=True)
            continue
        middle = time.perf_counter()
        cost, bound = least_cost(sheets, listed, demand, arguments.seconds)
        end = time.perf_counter()
        row = [order["name"], sum(map(len, listed)), f"{middle - start:.1f}", round(cost), f"{bound:.2f}", f"{end - middle:.1f}"]
        if arguments.planner:
            plan = planner(arguments.planner, path)
            # Two proofs and two plans: neither plan may cost less than the other's bound.
            solved = bound > cost - 1
            holds = plan["cost"] == round(cost) if solved else plan["cost"] >= bound
            holds = holds and plan["bound"] <= round(cost)
            differ = differ or not holds
            row += [plan["cost"], plan["bound"], ("yes" if solved else "within bounds") if holds else "NO"]
        else:
            row += ["", "", ""]
        print(",".join(map(str, row)), flush=True)
    sys.exit(1 if differ else 0)


if __name__ == "__main__":
    main()
