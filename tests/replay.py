"""A replay of ``plan.json`` written from the plan format alone, for end-to-end tests.

It reads the document as plain data and the job as it was asked for, and shares nothing with the
package's own audit: numbers stay floating-point, and edges are judged by where they lie on the
sheet, not by what each cut took off. Faults come back as lines of text; none means sound.
"""

from __future__ import annotations

import re
from collections import Counter
from fractions import Fraction
from typing import Any

from cutlist.model.job import Job
from tests.replay_instructions import Instructions
from tests.replay_rects import EPS, Doc, Rect, near, rect_of
from tests.replay_shop import Shop, tools_of
from tests.replay_weights import weight_faults

EDGES = ("left", "right", "lower", "upper")
CORE = {
    "": "format job units step buy totals bounds workpieces settings panels offcuts",
    "job": "name sha256 text content",
    "buy": "sheet material thickness length width count price_each cost",
    "totals": "sheets cost setups setups_by_device store_setups minutes cuts parts part_area "
    "sheet_area kept_offcut_area waste_percent",
    "bounds": "cost setups setups_proven",
    "workpieces": "piece sheet from length width",
    "settings": "number place tool device distance mark kerf cuts",
    "panels": "part copy piece x y length width",
    "offcuts": "piece length width keep",
}


def area(items: list[Doc]) -> float:
    """Add up areas."""
    return float(sum(item["length"] * item["width"] for item in items))


def replay(document: Doc, job: Job) -> list[str]:
    """Replay a plan document for its job and return every fault found."""
    run = _Replay(document, job)
    for key, names in CORE.items():
        items = document if key == "" else document.get(key, {})
        for item in items if isinstance(items, list) else [items]:
            missing = [name for name in names.split() if name not in item]
            run.expect(not missing, f"{key or 'document'}: keys missing: {missing}")
    if not run.faults:
        head = (document["format"], document["units"])
        run.expect(head == ("cutlist-plan/2", job.units.value), f"format, units: {head}")
        for step in (run.stock, run.settings, run.panels, run.totals, run.visits, run.matches):
            step()
        run.faults += weight_faults(document, job)
    return run.faults


class _Replay:
    """One run; ``rough`` holds the edges that the store left: axis, end, piece."""

    def __init__(self, document: Doc, job: Job) -> None:
        self.document, self.job = document, job
        self.accuracy = 0.0 if job.store is None else float(job.store.accuracy)
        self.faults: list[str] = []
        self.pieces: dict[str, Rect] = {}
        self.source: dict[str, Any] = {}
        self.seen, self.bought = set[str](), set[str]()
        self.rough: list[tuple[int, int, Rect]] = []
        self.instructions = Instructions(document, job)

    def expect(self, condition: object, fault: str) -> None:
        if not condition:
            self.faults.append(fault)

    def stock(self) -> None:
        sheets = {sheet.name: sheet for sheet in self.job.sheets}
        offcuts = {offcut.name: offcut for offcut in self.job.offcuts}
        used: Counter[tuple[bool, str]] = Counter()
        for item in self.document["workpieces"]:
            name, bought = item["piece"], item["from"] == "buy"
            found: Any = (sheets if bought else offcuts).get(item["sheet"])
            self.expect(name not in self.source, f"{name}: workpiece twice")
            if found is None or item["from"] not in ("buy", "offcut"):
                self.faults.append(f"{name}: no stock {item['sheet']}")
                continue
            used[bought, found.name] += 1
            whole = rect_of({"x": 0.0, "y": 0.0, **item}, name)
            stock = Rect([(0, float(found.length)), (0, float(found.width))], name)
            self.expect(whole.same(stock, 0, 1), f"{name}: size")
            edges = getattr(found, "edges", None)
            told = None if edges is None else [float(getattr(edges, e)) for e in EDGES]
            said = item.get("edges")
            self.expect((said and [said[e] for e in EDGES]) == told, f"{name}: edges")
            self.expect((item.get("grain") == "none") != found.has_grain, f"{name}: grain")
            self.source[name], self.pieces[name] = found, whole
            self.seen.add(name)
            self.bought |= {name} if bought else set()
        for (bought, name), count in used.items():
            limit = sheets[name].in_stock if bought else offcuts[name].qty
            self.expect(limit is None or count <= limit, f"{name}: {count} used of {limit}")
        lines: Counter[str] = Counter()
        for line in self.document["buy"]:
            lines[line["sheet"]] += line["count"]
            price = sheets[line["sheet"]].price if line["sheet"] in sheets else None
            each = None if price is None else float(price)
            self.expect(line["price_each"] == each, f"{line['sheet']}: price")
            self.expect(near(line["cost"], line["count"] * (each or 0.0)), f"{line['sheet']}: cost")
        wanted = {name: count for (bought, name), count in used.items() if bought}
        self.expect(dict(lines) == wanted, f"bought {dict(lines)}, used {wanted}")

    def settings(self) -> None:
        job, number, before, shop = self.job, 0, None, False
        store_cuts: Counter[str] = Counter()
        shop_rules = Shop(job)
        unsafe = set[tuple[int, str]]()
        home = list(self.pieces.values())
        for position, setting in enumerate(self.document["settings"], start=1):
            where = f"setting {position}"
            self.expect(setting["number"] == position, f"{where}: number")
            key = (setting["place"], setting["tool"], setting["distance"])
            store = setting["place"] == "store"
            tool = None if store else shop_rules.tools.get(setting["tool"])
            saw: Any = job.store if store else tool
            self.expect(saw is not None, f"{where}: no such tool")
            wanted = "store" if tool is None else tool.device
            self.expect(setting["device"] == wanted, f"{where}: device is not the {wanted}")
            anew = tool is not None and tool.is_laid_anew
            self.expect(anew or key != before, f"{where}: repeated")
            count = len(setting["cuts"])
            self.expect(count == 1 if anew else count > 0, f"{where}: has {count} cuts")
            before = key
            self.expect(not (store and shop), f"{where}: store after shop")
            shop |= not store
            self.expect(saw and near(setting["kerf"], float(saw.kerf)), f"{where}: kerf")
            if tool is not None:
                within = setting["distance"] <= tool.max_rip + EPS
                self.expect(within, f"{where}: beyond the saw's reach")
                scale = next((one.scale for one in job.tools if one.name == tool.name), None)
                on_scale = self.on_scale(setting["distance"], scale)
                self.expect(on_scale, f"{where}: off the scale")
            for cut in setting["cuts"]:
                number += 1
                self.expect(cut["number"] == number, f"cut {number}: numbered {cut['number']}")
                rect = self.pieces.get(cut["piece"])
                if rect is not None and tool is not None:
                    found = shop_rules.hazards(cut, setting["distance"], rect, tool)
                    unsafe |= {(number, words) for words in found}
                    other = shop_rules.another(cut, setting, rect) if found else None
                    self.expect(other is None, f"cut {number}: {other} makes it")
                sheet = self.cut(f"cut {number}", cut, setting)
                if store and sheet is not None:
                    store_cuts[sheet] += 1
                    self.expect(sheet in self.bought, f"cut {number}: store cuts an offcut")
            home = list(self.pieces.values()) if store else home
        for sheet, count in store_cuts.items():
            limit = None if job.store is None else job.store.max_cuts
            self.expect(limit is None or count <= limit, f"{sheet}: {count} store cuts")
        flags = [
            (cut["number"], caution.removeprefix("unsafe: "))
            for setting in self.document["settings"]
            for cut in setting["cuts"]
            for caution in cut["cautions"]
            if caution.startswith("unsafe")
        ]
        self.expect(sorted(flags) == sorted(unsafe), f"flags {flags}, unsafe {sorted(unsafe)}")
        beds = [[float("inf")] * 2]
        if job.vehicle is not None:
            beds = [sorted((float(job.vehicle.bed_length), float(job.vehicle.bed_width)))]
            if job.vehicle.second_opening is not None:
                beds.append(sorted(map(float, job.vehicle.second_opening)))
        for rect in home:
            size = sorted((rect.size(0), rect.size(1)))
            fits = any(size[0] <= bed[0] + EPS and size[1] <= bed[1] + EPS for bed in beds)
            self.expect(fits or rect.sheet not in self.bought, f"vehicle too small for {rect}")

    def on_scale(self, distance: float, scale: Fraction | None) -> bool:
        """Tell if a distance is on the scale, or if a length of the job could force it off."""
        job = self.job
        if scale is None or near(distance, round(distance / scale) * float(scale)):
            return True
        lengths = [*(saw.kerf for saw in job.tools), scale if job.store is None else job.store.kerf]
        items: list[Any] = [*job.sheets, *job.offcuts, *job.parts]
        for item in items:
            lengths += [item.length, item.width, getattr(item, "trim", scale)]
            edges = getattr(item, "edges", None)
            lengths += [] if edges is None else [getattr(edges, e) for e in EDGES]
        return any(length % scale for length in lengths)

    def cut(self, where: str, cut: Doc, setting: Doc) -> str | None:
        rect = self.pieces.pop(cut["piece"], None)
        if rect is None:
            self.faults.append(f"{where}: no piece {cut['piece']}")
            return None
        axis, kerf = {"rip": 1, "crosscut": 0}[cut["direction"]], setting["kerf"]
        purpose, shop = cut["purpose"], setting["place"] != "store"
        kept = rect_of(cut["kept"], rect.sheet, purpose)
        made, (start, end) = {cut["kept"]["piece"]: kept}, rect.spans[axis]
        low = near(kept.spans[axis][0], start)
        self.expect(low or near(kept.spans[axis][1], end), f"{where}: kept off the edge")
        rides = "xy"[axis] + ("0" if low else "1")
        self.expect(cut["rides"] == rides, f"{where}: rides {cut['rides']}, not {rides}")
        self.faults += self.instructions.faults(where, cut, setting, rect)
        self.expect(near(kept.size(axis), setting["distance"]), f"{where}: kept not the distance")
        taken = rect.size(axis) - kept.size(axis)
        self.expect(taken > EPS, f"{where}: takes nothing off")
        has_rest = cut.get("rest") is not None
        self.expect(has_rest == (taken > kerf + EPS), f"{where}: rest or no rest")
        if has_rest:
            rest = made[cut["rest"]["piece"]] = rect_of(cut["rest"], rect.sheet)
            spans = list(rect.spans)
            kept_start, kept_end = kept.spans[axis]
            spans[axis] = (kept_end + kerf, end) if low else (start, kept_start - kerf)
            self.expect(rest.same(Rect(spans, ""), 0, 1), f"{where}: rest out of place")
        whole = kept.same(rect, 1 - axis) and kept.size(axis) > EPS
        self.expect(whole, f"{where}: kept not edge to edge")
        fresh = len(made) == 1 + has_rest and not self.seen & set(made)
        self.expect(fresh, f"{where}: name used again")
        self.seen |= set(made)
        self.pieces |= made
        known = ["part", "clean-up", "rough"] + ["break-down"] * (not shop)
        self.expect(purpose in known, f"{where}: purpose {purpose}")
        if purpose == "part" and shop:
            unclean = self.unclean(kept, axis, 0 if low else 1)
            rides_well = unclean is None or (unclean == "factory" and self.is_straight(rect.sheet))
            self.expect(rides_well, f"{where}: {unclean} edge rides the fence")
        if purpose == "clean-up":
            end = int((cut.get("takes_off") or "x0")[1])
            off = taken if end == int(low) else kept.size(axis) + kerf
            at_store = self.unclean(rect, axis, end) == "store"
            least = self.accuracy if at_store else self.trim(rect.sheet, axis, end)
            self.expect(off >= least - EPS, f"{where}: takes off {off} of {least}")
        if not shop:
            self.rough += [(axis, int(low == (piece is kept)), piece) for piece in made.values()]
        return rect.sheet

    def unclean(self, rect: Rect, axis: int, end: int) -> str | None:
        """Say by what an edge is unclean, from where it lies: too near a store or factory edge."""
        at, source = rect.spans[axis][end], self.source[rect.sheet]
        for rough_axis, rough_end, piece in self.rough:
            inside = rect.sheet == piece.sheet and all(
                outer[0] - EPS <= inner[0] and inner[1] <= outer[1] + EPS
                for inner, outer in zip(rect.spans, piece.spans, strict=True)
            )
            gap = abs(at - piece.spans[axis][end])
            if inside and (rough_axis, rough_end) == (axis, end) and gap < self.accuracy - EPS:
                return "store"
        border = (source.length, source.width)[axis]
        gap = at if end == 0 else float(border) - at
        return "factory" if gap < self.trim(rect.sheet, axis, end) - EPS else None

    def is_straight(self, sheet: str) -> bool:
        """Tell if a piece is of a sheet whose own edges are straight; stock on hand has none."""
        source = self.source[sheet]
        return sheet in self.bought and source.factory_edge.value == "straight"

    def trim(self, sheet: str, axis: int, end: int) -> float:
        """Return what comes off an edge of stock, as the job has it."""
        source = self.source[sheet]
        edges = getattr(source, "edges", None)
        name = (("left", "right"), ("lower", "upper"))[axis][end]
        return float(source.trim if edges is None else getattr(edges, name))

    def panels(self) -> None:
        parts = {part.name: part for part in self.job.parts}
        left = dict(self.pieces)
        copies = sorted((panel["part"], panel["copy"]) for panel in self.document["panels"])
        short = {entry["part"]: entry["count"] for entry in self.document.get("short", ())}
        wanted = sorted(
            (part.name, i + 1)
            for part in self.job.parts
            for i in range(part.qty - short.get(part.name, 0))
        )
        self.expect(copies == wanted, f"panels {copies}, asked for {wanted}")
        for panel in self.document["panels"]:
            where = f"panel {panel['part']} {panel['copy']}"
            part, rect = parts.get(panel["part"]), left.pop(panel["piece"], None)
            if part is None or rect is None:
                self.faults.append(f"{where}: no such part, or piece not left")
                continue
            self.expect(rect_of(panel, "").same(rect, 0, 1), f"{where}: not where its piece is")
            size = (float(part.length), float(part.width))
            straight = near(rect.size(0), size[0]) and near(rect.size(1), size[1])
            turned = near(rect.size(0), size[1]) and near(rect.size(1), size[0])
            allowed = {"length": straight, "width": turned, "any": straight or turned}
            grain = part.grain.value if self.source[rect.sheet].has_grain else "any"
            self.expect(allowed[grain], f"{where}: size or grain")
            kind = self.source[rect.sheet].material, self.source[rect.sheet].thickness
            self.expect(kind == (part.material, part.thickness), f"{where}: material")
            self.expect(rect.purpose != "rough", f"{where}: left rough")
            unclean = [self.unclean(rect, axis, end) for axis in (0, 1) for end in (0, 1)]
            self.expect(unclean == [None] * 4, f"{where}: edges {unclean}")
        for offcut in self.document["offcuts"]:
            rect = left.pop(offcut["piece"], None)
            size = (offcut["length"], offcut["width"])
            there = rect and all(near(rect.size(i), size[i]) for i in (0, 1))
            self.expect(there, f"offcut {offcut['piece']}: not left, or of another size")
        self.expect(not left, f"neither panel nor offcut: {sorted(left)}")

    def totals(self) -> None:
        settings, totals = self.document["settings"], self.document["totals"]
        bounds, store, charge = self.document["bounds"], self.job.store, 0.0
        if store is not None:
            charge = self.paid_cuts(store.free_cuts) * float(store.cut_price)
        at_shop = [setting for setting in settings if setting["place"] == "shop"]
        devices = {
            device: sum(setting["device"] == device for setting in at_shop)
            for device in ("fence", "stop", "guide")
        }
        self.expect(totals["setups_by_device"] == devices, f"set-ups by device, counted {devices}")
        stock, used = area(self.document["workpieces"]), area(self.document["panels"])
        kept = area([offcut for offcut in self.document["offcuts"] if offcut["keep"]])
        wanted = {
            "sheets": len(self.bought),
            "cost": sum(line["cost"] for line in self.document["buy"]) + charge,
            "setups": len(at_shop),
            "store_setups": len(settings) - len(at_shop),
            "minutes": Shop(self.job).minutes(at_shop),
            "cuts": sum(len(setting["cuts"]) for setting in settings),
            "parts": len(self.document["panels"]),
            "part_area": used,
            "sheet_area": stock,
            "kept_offcut_area": kept,
            "waste_percent": 100 * (stock - used - kept) / stock if stock else 0.0,
        }
        for key, value in wanted.items():
            self.expect(near(totals[key], value, abs(value)), f"total {key}, counted {value}")
        self.expect(bounds["cost"] <= totals["cost"] + EPS, "cost below its bound")
        gap = totals["setups"] - bounds["setups"]
        self.expect(gap >= 0 and bounds["setups_proven"] == (gap == 0), "setups and their bound")
        self.expect(bounds.get("order", 0) <= totals["setups"], "set-ups and the bound on orders")

    def paid_cuts(self, free: int) -> int:
        """Count the store's cuts beyond the free ones of each trip.

        A sheet is cut on the first trip that has a piece of it; they are named by its letter.
        """
        cuts = [c for s in self.document["settings"] if s["place"] == "store" for c in s["cuts"]]
        letters = [re.match("[A-Z]+", cut["piece"]) for cut in cuts]
        trips = self.document.get("trips", [])
        firsts: Counter[int] = Counter()
        for letter in filter(None, letters):
            named = re.compile(rf"{letter[0]}\d*")
            on = [t["number"] for t in trips if any(map(named.fullmatch, t["pieces"]))]
            firsts[min(on, default=0)] += 1
        return sum(max(0, count - free) for count in firsts.values())

    def visits(self) -> None:
        """Count the settings at each distance; a later one waits for pieces made since."""
        distances: list[tuple[float, list[int]]] = []
        maker: dict[str, int] = {}
        for setting in self.document["settings"]:
            for cut in setting["cuts"]:
                maker |= {
                    cut[end]["piece"]: cut["number"] for end in ("kept", "rest") if end in cut
                }
            for distance, numbers in distances:
                if distance == setting["distance"]:
                    numbers.append(setting["number"])
                    break
            else:
                distances.append((setting["distance"], [setting["number"]]))
        told = [(entry["distance"], entry["settings"]) for entry in self.document["visits"]]
        self.expect(told == distances, f"visits {told}, counted {distances}")
        by_number = {setting["number"]: setting for setting in self.document["settings"]}
        for wait in (wait for entry in self.document["visits"] for wait in entry["waits"]):
            pieces = [cut["piece"] for cut in by_number[wait["setting"]]["cuts"]]
            made = maker.get(wait["piece"]) == wait["cuts"][-1]
            self.expect(wait["piece"] in pieces and made, f"wait {wait}")

    def matches(self) -> None:
        """Say for each match which settings gave its panels their size."""
        told = self.document.get("matches", [])
        self.expect([m["name"] for m in told] == [m.name for m in self.job.matches], "matches")
        anew_tools = {tool.name for tool in tools_of(self.job) if tool.is_laid_anew}
        anew = {
            setting["number"]
            for setting in self.document["settings"]
            if setting["place"] == "shop" and setting["tool"] in anew_tools
        }
        for entry, match in zip(told, self.job.matches, strict=False):
            self.expect(near(entry["distance"], float(match.distance)), f"{match.name}: distance")
            self.expect(entry["parts"] == list(match.parts), f"{match.name}: parts")
            panels = [p for p in self.document["panels"] if p["part"] in match.parts]
            found = [
                self.last_setting(panel["piece"], direction)
                for panel in panels
                for direction, size in (("crosscut", "length"), ("rip", "width"))
                if near(panel[size], float(match.distance))
            ]
            numbers = sorted({number for number in found if number})
            guided = [number for number in numbers if number in anew]
            settings = [number for number in numbers if number not in anew]
            wanted = [len(panels), settings, guided, found.count(0)]
            one = len(settings) < 2 and not found.count(0) and not guided
            counted = [entry["panels"], entry["settings"], entry["guided"], entry["unset"]]
            self.expect(counted == wanted, f"{match.name}: {counted}, counted {wanted}")
            self.expect(entry["one_visit"] == one, f"{match.name}: in one visit")

    def last_setting(self, piece: str, direction: str) -> int:
        """Walk the settings backwards to the one that gave a piece its size; 0 for none."""
        for setting in reversed(self.document["settings"]):
            for cut in reversed(setting["cuts"]):
                ends = [cut[end]["piece"] for end in ("kept", "rest") if end in cut]
                if piece in ends:
                    if cut["direction"] == direction:
                        return int(setting["number"]) if piece == ends[0] else 0
                    piece = cut["piece"]
        return 0
