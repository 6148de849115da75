"""What is wrong in each file of ``bad/``: line, column, key path and a phrase, in file order."""

from __future__ import annotations

from typing import Final

EXPECTED: Final[dict[str, list[tuple[int, int, str, str]]]] = {
    "alias-bomb": [
        (1, 1, "sheets", "there is nothing to cut from: no sheets and no offcuts"),
        (1, 6, "job", "marks to refer back to are not read"),
        (1, 6, "job", "one value is wanted here, not a list"),
        (2, 8, "units", "marks to refer back to are not read"),
        (2, 8, "units", "one value is wanted here, not a list"),
        (2, 12, "units[1]", "references to other places are not read"),
        (2, 16, "units[2]", "references to other places are not read"),
        (3, 6, "saw", "saw is made of keys with values, not a list"),
        (3, 7, "saw[1]", "references to other places are not read"),
        (3, 11, "saw[2]", "references to other places are not read"),
        (4, 9, "parts[1]", "references to other places are not read"),
        (4, 13, "parts[2]", "references to other places are not read"),
    ],
    "also-in-its-own-unit": [(18, 10, "also_in", "this is the job's own unit")],
    "anchor": [(19, 5, "parts[1]", "marks to refer back to are not read")],
    "bracket-not-closed": [(25, 22, "", "a comma or a closing bracket is missing")],
    "colon-missing": [(22, 5, "", "the colon after a key is missing")],
    "comma-missing": [(20, 27, "", "a comma or a closing bracket is missing")],
    "colon-in-plain-text": [(1, 11, "", "a colon too many, or the line is indented wrongly")],
    "density-and-weight": [(14, 13, "sheets[1].weight", "the density is given as well")],
    "decimal-comma-on-one-line": [(19, 58, "parts[1].25", "a comma ends the value before it")],
    "density-not-a-number": [(13, 14, "sheets[1].density", "this is not a density")],
    "density-of-lead": [
        (13, 14, "sheets[1].density", "no board is so light or so heavy; is the unit right?")
    ],
    "density-without-unit": [(13, 14, "sheets[1].density", "the density's unit is missing")],
    "control-character": [(1, 9, "", "this control character cannot stand in a job file")],
    "empty-file": [(1, 1, "", "the file is empty")],
    "entry-is-a-value": [
        (27, 5, "parts[3]", "parts[3] is made of keys with values, not a single value")
    ],
    "entry-is-empty": [(27, 4, "parts[3]", "parts[3] is made of keys with values, not nothing")],
    "factory-edge-of-an-offcut": [
        (9, 5, "offcuts[1].factory_edge", "there is no key 'factory_edge' here")
    ],
    "factory-edge-rough-with-a-trim-of-0": [
        (12, 19, "sheets[1].factory_edge", "a rough edge has to be cut off, and the trim is 0")
    ],
    "factory-edge-rough-without-trim": [
        (11, 19, "sheets[1].factory_edge", "a rough edge has to be cut off, and the trim is 0")
    ],
    "factory-edge-unknown": [(12, 19, "sheets[1].factory_edge", "this is none of straight, rough")],
    "grain-unknown": [(26, 12, "parts[2].grain", "this is none of length, width, any")],
    "impossible-escape": [(1, 17, "", "this is not YAML: an impossible number or escape")],
    "in-stock-negative": [(13, 15, "sheets[1].in_stock", "this number is out of range")],
    "in-stock-not-whole": [(13, 15, "sheets[1].in_stock", "this is not a whole number")],
    "job-name-empty": [(1, 6, "job", "the name is empty")],
    "job-name-missing": [(1, 1, "job", "the key job is missing")],
    "job-name-null": [(1, 5, "job", "the value is missing")],
    "job-name-of-many-lines": [(1, 6, "job", "a name is plain printable text")],
    "job-name-too-long": [(1, 6, "job", "a name has at most 80 characters")],
    "keep-from-of-one-length": [
        (27, 12, "keep_from", "a size is a length and a width with x between them")
    ],
    "kerf-empty": [(4, 8, "saw.kerf", "the value is missing")],
    "kerf-is-a-list": [(4, 9, "saw.kerf", "one value is wanted here, not a list")],
    "kerf-missing": [(4, 3, "saw.kerf", "the key kerf is missing")],
    "kerf-negative": [(4, 9, "saw.kerf", "a length cannot be negative")],
    "kerf-too-wide-for-a-blade": [
        (4, 9, "saw.kerf", "this is too much for a blade's kerf; is the unit right?")
    ],
    "kerf-wider-than-part": [
        (21, 11, "parts[1].size", "the part is narrower than the saw's kerf of 1/8\"")
    ],
    "key-is-a-list": [(27, 3, "", "a key is a plain word")],
    "key-is-missing": [(27, 1, "", "the key before the colon is missing")],
    "key-twice": [(23, 5, "parts[1].qty", "the key qty stands here already, in line 22")],
    "largest-piece-of-a-table-saw": [
        (6, 20, "saws[1].largest_piece", "a table saw carries no piece to the blade")
    ],
    "largest-piece-of-one-length": [
        (8, 20, "saws[2].largest_piece", "a size is a length and a width with x between them")
    ],
    "largest-piece-of-three-lengths": [
        (8, 20, "saws[2].largest_piece", "a size is two lengths, not 3")
    ],
    "largest-piece-with-one-entry-wrong": [
        (8, 33, "saws[2].largest_piece[2]", "one side of the size is missing"),
        (8, 41, "saws[2].largest_piece[3]", "a size is a length and a width with x between them"),
    ],
    "largest-pieces-too-many": [(8, 20, "saws[2].largest_piece", "these are more than are read")],
    "lengths-without-a-common-step": [
        (
            21,
            11,
            "parts[1].size",
            "beside the others the lengths are too fine for each other to be kept exactly",
        )
    ],
    "list-at-the-top": [(1, 1, "", "the file is made of keys with values, not a list")],
    "match-is-a-list": [(22, 12, "parts[1].match", "one value is wanted here, not a list")],
    "match-of-a-side-unknown": [(23, 13, "parts[1].match.depth", "there is no key 'depth' here")],
    "match-of-another-side": [
        (
            26,
            20,
            "parts[2].match.width",
            'this side of the part is not 11 1/4", which the parts of case depth above share',
        )
    ],
    "match-of-both-sides": [
        (
            23,
            12,
            "parts[1].match",
            'share both sides, 34 1/2" and 11 1/4", and it is not said which has to match',
        )
    ],
    "match-of-one-panel": [
        (27, 20, "parts[2].match.width", "there is no other panel for this one to match")
    ],
    "match-without-a-common-side": [
        (
            30,
            12,
            "parts[3].match",
            'no side of the part is 34 1/2", which the parts of case depth above share',
        )
    ],
    "material-missing": [(19, 5, "parts[1].material", "the key material is missing")],
    "material-unknown-and-far": [
        (20, 15, "parts[1].material", "no sheet or offcut is of the material oak")
    ],
    "material-unknown": [
        (20, 15, "parts[1].material", "no sheet or offcut is of the material brich ply")
    ],
    "max-rip-empty": [(5, 11, "saw.max_rip", "the value is missing")],
    "max-rip-too-small": [
        (5, 12, "saw.max_rip", "this is too little for the reach of a fence; is the unit right?")
    ],
    "max-rip-zero": [(5, 12, "saw.max_rip", "this must be more than 0")],
    "merge-key": [(22, 5, "parts[1].<<", "there is no key '<<' here")],
    "nested-too-deep": [(27, 27, "", "this is nested more than 20 deep")],
    "no-parts": [(18, 7, "parts", "the job has no parts")],
    "no-stock": [(7, 9, "sheets", "there is nothing to cut from: no sheets and no offcuts")],
    "not-utf-8": [(1, 9, "", "the file is not UTF-8 text")],
    "offcut-named-like-a-sheet": [
        (28, 12, "offcuts[1].name", "the name ply full is taken, in line 8")
    ],
    "only-comments": [(1, 1, "", "the file is empty")],
    "part-larger-than-every-sheet": [
        (21, 11, "parts[1].size", "the part is larger than every sheet and offcut of its material")
    ],
    "part-name-missing": [(19, 5, "parts[1].name", "the key name is missing")],
    "part-name-twice": [(23, 11, "parts[2].name", "the name shelf is taken, in line 19")],
    "part-too-wide-for-its-grain": [
        (
            25,
            11,
            "parts[2].size",
            "larger than every sheet and offcut of its material with its width along the grain",
        )
    ],
    "part-too-large-once-trimmed": [
        (22, 11, "parts[1].size", "the part is larger than every sheet and offcut of its material")
    ],
    "part-too-long-for-its-grain": [
        (
            25,
            11,
            "parts[2].size",
            "larger than every sheet and offcut of its material with its length along the grain",
        )
    ],
    "parts-missing": [(1, 1, "parts", "the job has no parts")],
    "price-negative": [(12, 12, "sheets[1].price", "money cannot be negative here")],
    "price-of-one-sheet-missing": [
        (13, 5, "sheets[2].price", "this sheet has no price though another one has")
    ],
    "price-with-currency": [(12, 12, "sheets[1].price", "this is not an amount of money")],
    "price-with-decimal-comma": [(12, 12, "sheets[1].price", "a decimal is written with a point")],
    "python-tag": [
        (1, 6, "job", "type tags are not read"),
        (1, 6, "job", "one value is wanted here, not a list"),
    ],
    "qty-as-a-fraction": [(22, 10, "parts[1].qty", "this is not a whole number")],
    "qty-as-a-truth-value": [(22, 10, "parts[1].qty", "this is not a whole number")],
    "qty-as-a-word": [(22, 10, "parts[1].qty", "this is not a whole number")],
    "qty-negative": [(22, 10, "parts[1].qty", "this number is out of range")],
    "qty-of-a-warehouse": [(22, 10, "parts[1].qty", "this number is out of range")],
    "qty-with-a-point": [(22, 10, "parts[1].qty", "this is not a whole number")],
    "qty-zero": [(22, 10, "parts[1].qty", "this number is out of range")],
    "quote-not-closed": [(1, 6, "", "a quote or a bracket is not closed")],
    "repeats-neither-yes-nor-no": [(8, 14, "saws[2].repeats", "this is neither yes nor no")],
    "repeats-of-a-sled": [
        (8, 14, "saws[2].repeats", "a sled serves all cuts of a distance once it is set")
    ],
    "required-key-misspelt": [(2, 1, "unit", "there is no key 'unit' here")],
    "saw-is-a-value": [(3, 6, "saw", "saw is made of keys with values, not a single value")],
    "saw-missing": [(1, 1, "saw", "the key saw is missing")],
    "scale-too-coarse": [
        (6, 10, "saw.scale", "this is too much for the finest mark of a scale; is the unit right?")
    ],
    "scale-zero": [(6, 10, "saw.scale", "this must be more than 0")],
    "several-faults": [
        (4, 9, "saw.kerf", "this is not a length"),
        (12, 12, "sheets[1].price", "this is not an amount of money"),
        (22, 10, "parts[1].qty", "this is not a whole number"),
        (26, 5, "parts[2].grian", "there is no key 'grian' here"),
    ],
    "sheet-name-twice": [(13, 11, "sheets[2].name", "the name ply full is taken, in line 8")],
    "sheets-are-a-mapping": [(8, 5, "sheets", "sheets is a list, not keys with values")],
    "size-as-hexadecimal": [(21, 11, "parts[1].size", "write the number in plain digits")],
    "size-as-minutes": [(21, 11, "parts[1].size", "write the number in plain digits")],
    "size-as-octal": [(21, 11, "parts[1].size", "a number does not start with a needless 0")],
    "size-in-unclear-unit": [
        (6, 40, "parts[1].size", "it is not clear which unit the first length is in")
    ],
    "size-in-unknown-unit": [
        (21, 11, "parts[1].size", "this unit is not known; in, ft, mm, cm and m are")
    ],
    "size-list-of-three": [(21, 11, "parts[1].size", "a size is two lengths, not 3")],
    "size-missing": [(19, 5, "parts[1].size", "the key size is missing")],
    "size-not-a-number": [(21, 11, "parts[1].size", "this is not a length")],
    "size-of-one-length": [
        (21, 11, "parts[1].size", "a size is a length and a width with x between them")
    ],
    "size-of-three-lengths": [
        (21, 11, "parts[1].size", "a size is a length and a width with x between them")
    ],
    "size-with-decimal-comma": [
        (21, 11, "parts[1].size", "a decimal is written with a point, thousands without a mark")
    ],
    "size-with-division-by-zero": [
        (21, 11, "parts[1].size", "a fraction cannot have 0 below the line")
    ],
    "size-with-exponent": [
        (21, 11, "parts[1].size", "an exponent is not read; write the number out")
    ],
    "size-with-half-missing": [(21, 11, "parts[1].size", "one side of the size is missing")],
    "size-with-underscore": [(21, 11, "parts[1].size", "write the number in plain digits")],
    "size-with-zero": [(21, 11, "parts[1].size", "both sides must be more than 0")],
    "steady-edge-of-a-saw-alone": [(5, 3, "saw.steady_edge", "there is no key 'steady_edge' here")],
    "steady-edge-of-a-sled": [
        (8, 18, "saws[2].steady_edge", "a sled has no fence to hold an edge along")
    ],
    "steady-edge-without-value": [(6, 17, "saws[1].steady_edge", "the value is missing")],
    "store-accuracy-too-coarse": [
        (
            29,
            13,
            "store.accuracy",
            "this is too much for the error of a store's saw; is the unit right?",
        )
    ],
    "store-cut-price-negative": [(30, 14, "store.cut_price", "money cannot be negative here")],
    "store-cuts-not-whole": [(30, 13, "store.max_cuts", "this is not a whole number")],
    "store-kerf-missing": [(28, 3, "store.kerf", "the key kerf is missing")],
    "store-without-keys": [(27, 7, "store", "store is made of keys with values, not nothing")],
    "tab-for-indentation": [(4, 1, "", "a tab stands here; YAML is indented with spaces")],
    "text-after-quote": [
        (19, 19, "", "the line is indented wrongly, or text goes on after a closing quote")
    ],
    "text-at-the-top": [(1, 1, "", "the file is made of keys with values, not a single value")],
    "thickness-by-its-trade-name": [
        (
            23,
            16,
            "parts[1].thickness",
            'this material comes in 18 mm; 3/4" is 19.05 mm and 18 mm is ≈ 0.709": not the same',
        )
    ],
    "thickness-in-the-wrong-unit": [
        (10, 16, "sheets[1].thickness", "this is too much for sheet goods; is the unit right?")
    ],
    "thickness-left-open": [
        (19, 5, "parts[1].thickness", "birch ply comes in several thicknesses: 12 mm, 18 mm"),
        (23, 5, "parts[2].thickness", "birch ply comes in several thicknesses: 12 mm, 18 mm"),
    ],
    "thickness-not-in-stock": [(23, 16, "parts[1].thickness", "this material comes in 18 mm")],
    "thickness-of-sheet-missing": [(8, 5, "sheets[1].thickness", "the key thickness is missing")],
    "thickness-zero": [(10, 16, "sheets[1].thickness", "this must be more than 0")],
    "trim-leaves-nothing": [
        (18, 11, "sheets[2].trim", 'the trim on both edges leaves nothing of 96" × 48"')
    ],
    "trim-negative": [(18, 11, "sheets[2].trim", "a length cannot be negative")],
    "thinnest-strip-of-a-track-saw": [
        (8, 21, "saws[2].thinnest_strip", "a track saw has no fence to cut a thin strip at")
    ],
    "two-documents": [(27, 1, "", "a second document starts here; a job file is one")],
    "type-tag": [(22, 10, "parts[1].qty", "type tags are not read")],
    "units-missing": [(1, 1, "units", "the key units is missing")],
    "units-spelt-out": [(2, 8, "units", "this is none of in, mm")],
    "units-unknown": [(2, 8, "units", "this is none of in, mm")],
    "unknown-key-at-the-top": [(27, 1, "units_of_price", "there is no key 'units_of_price' here")],
    "unknown-key-far": [(22, 5, "parts[1].glue", "there is no key 'glue' here")],
    "unknown-key-near": [(22, 5, "parts[1].qyt", "there is no key 'qyt' here")],
    "unknown-key-other-word": [(22, 5, "parts[1].quantity", "there is no key 'quantity' here")],
    "utf-16": [(1, 1, "", "the file is not UTF-8 text")],
    "vehicle-bed-missing": [(28, 3, "vehicle.bed", "the key bed is missing")],
    "vehicle-load-in-stones": [(29, 13, "vehicle.max_load", "this is not a weight")],
    "vehicle-load-without-unit": [(29, 13, "vehicle.max_load", "the weight's unit is missing")],
    "vehicle-opening-empty": [(29, 18, "vehicle.second_opening", "the value is missing")],
    "vehicle-opening-no-size": [
        (29, 19, "vehicle.second_opening", "a size is a length and a width with x between them")
    ],
    "vehicle-opening-zero": [(29, 19, "vehicle.second_opening", "both sides must be more than 0")],
    "vehicle-load-zero": [(29, 13, "vehicle.max_load", "this must be more than 0")],
    "wrong-indentation": [
        (20, 4, "", "the line is indented wrongly, or text goes on after a closing quote")
    ],
    "tax-negative": [(3, 6, "tax", "this is not a rate in per cent")],
    "tax-without-its-sign": [(3, 6, "tax", "this is not a rate in per cent")],
    "weight-of-a-pile": [
        (13, 13, "sheets[1].weight", 'no board of 96" × 48" and this thickness weighs that')
    ],
    "weight-of-a-sheet-without-unit": [
        (13, 13, "sheets[1].weight", "the weight's unit is missing")
    ],
}
