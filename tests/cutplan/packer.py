#!/usr/bin/env python3
"""A general rectangle packer on the same orders: the best of all guillotine variants of rectpack.

    pip install rectpack==0.2.2
    python3 tests/cutplan/packer.py tests/cutplan/class-*.json

Every way to choose a section and a split, every sort, first and best fit. Sheets are opened in
a fixed order of stocks: the first stock in it that takes the part and is not used up; every order
of the stocks is tried (of more than four stocks: by price for their area alone) and, at the end,
each sheet is exchanged for the cheapest stock that holds what lies on it. That favours the
packer: it may cut in any number of phases, and rectpack's merging of sections may even need cuts
that do not go edge to edge. Parts keep their direction where the order says so.
"""

import itertools
import json
import sys
import time
from fractions import Fraction

import rectpack
from rectpack import guillotine

SORTS = ["SORT_AREA", "SORT_DIFF", "SORT_LSIDE", "SORT_PERI", "SORT_RATIO", "SORT_SSIDE"]
BINS = [rectpack.PackingBin.BFF, rectpack.PackingBin.BBF]


def variants(fixed):
    """All guillotine packers, taught which sizes may not be turned."""
    for choose, split in itertools.product(["Baf", "Blsf", "Bssf"], ["Las", "Llas", "Maxas", "Minas", "Sas", "Slas"]):
        base = getattr(guillotine, f"Guillotine{choose}{split}")

        class Packer(base):
            def _select_fittest_section(self, w, h):
                self.rot = (w, h) not in fixed
                return super()._select_fittest_section(w, h)

            def _fits_surface(self, width, height):
                self.rot = (width, height) not in fixed
                return super()._fits_surface(width, height)

        Packer.__name__ = base.__name__
        yield Packer


def read(path):
    with open(path, encoding="utf-8") as file:
        order = json.load(file, parse_float=Fraction, parse_int=Fraction)
    kerf = order["kerf"]
    size = lambda thing: tuple(int(1000 * (thing[side] + kerf)) for side in ("width", "height"))
    parts = [size(part) for part in order["parts"] for _ in range(int(part["quantity"]))]
    fixed = {size(part) for part in order["parts"] if not part["turnable"]}
    stock = [(*size(sheet), int(sheet["cost"]), sheet["available"]) for sheet in order["stock"]]
    return order["name"], parts, fixed, stock


def orders_of(stock):
    if len(stock) <= 4:
        return list(itertools.permutations(range(len(stock))))
    return [tuple(sorted(range(len(stock)), key=lambda s: stock[s][2] / (stock[s][0] * stock[s][1])))]


def pack(algorithm, sort, bins, parts, stock, order):
    """The cost, or None where a part is left over."""
    packer = rectpack.newPacker(rectpack.PackingMode.Offline, bins, algorithm, getattr(rectpack, sort), True)
    for index, part in enumerate(parts):
        packer.add_rect(*part, rid=index)
    for index in order:
        width, height, _, available = stock[index]
        packer.add_bin(width, height, int(available) if available is not None else float("inf"), bid=index)
    packer.pack()
    if len(packer.rect_list()) < len(parts):
        return None
    cost, used = 0, [0] * len(stock)
    for sheet in packer:
        right = max(rectangle.right for rectangle in sheet)
        top = max(rectangle.top for rectangle in sheet)
        holds = [
            index
            for index, (width, height, _, available) in enumerate(stock)
            if index == sheet.bid or (right <= width and top <= height and available is None)
        ]
        cost += min(stock[index][2] for index in holds)
        used[sheet.bid] += 1
    return cost


def main():
    print("order,rectpack cost,variant,sort,bins,seconds for all variants")
    for path in sys.argv[1:]:
        name, parts, fixed, stock = read(path)
        start = time.perf_counter()
        best = None
        for algorithm in variants(fixed):
            for sort, bins, order in itertools.product(SORTS, BINS, orders_of(stock)):
                cost = pack(algorithm, sort, bins, parts, stock, order)
                if cost is not None and (best is None or cost < best[0]):
                    best = (cost, algorithm.__name__, sort, bins)
        seconds = time.perf_counter() - start
        bins = {rectpack.PackingBin.BFF: "first fit", rectpack.PackingBin.BBF: "best fit"}
        row = [name, *(best[:3] if best else ["no plan", "", ""]), bins[best[3]] if best else "", f"{seconds:.0f}"]
        print(",".join(map(str, row)), flush=True)


if __name__ == "__main__":
    main()
