"""Cases answered by a published table alone, as it is read by `shopmate table`, and a cell that a calculator answers."""

from shopmate import calc, tables


def _only(name, wanted):
    found = [row for row in tables.load(name).rows if wanted(row)]
    assert len(found) == 1, found
    return found[0]


def _signal_word(given):
    asked = [given[name]["value"] for name in ("likelihood", "severity")]
    return {"signal_word": _only("signal_words", lambda row: [row["likelihood"], row["severity"]] == asked)["signal_word"]}


def _pocket_thread(given):
    woods = given["wood"].split(" or ")
    threads = {row["thread"] for row in tables.load("pocket_screws").rows if all(wood in row["wood"] for wood in woods)}
    assert len(threads) == 1, threads
    return {"thread": threads.pop()}


def _pocket_length(given):
    stock = given["stock_in"]
    fitting = [
        row["length_in"]
        for row in tables.load("pocket_screws").rows
        if float(row["stock_min_in"]) <= stock <= float(row["stock_max_in"])
    ]
    assert len(set(fitting)) == 1, fitting
    return {"length_in": float(fitting[0])}


def _lateral(given):
    gravity, side = str(given["G"]), f"{given['side_member_in']} in"
    joint = {"size": f"#{given['gauge']}", "top": gravity, "top_thickness": side, "holding": gravity, "holding_thickness": "4 in"}
    return {"Z_lb": calc.run("pattern", {**joint, "screw_length": "4 in"}).outputs["lateral"].value_in("lbf")}


CASES = {
    "sign-01": _signal_word,
    "sign-02": _signal_word,
    "sign-04": _signal_word,
    "pocket-thread-soft": _pocket_thread,
    "pocket-length-3_4": _pocket_length,
    "lateral-no10": _lateral,
}
