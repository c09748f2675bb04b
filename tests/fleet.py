"""The SQL of docs/fleet.md over 10^6 made-up attempts, held to the program's own figures.

Run with Python 3.11 and duckdb 2.0.1:  python3 tests/fleet.py target/release/bedplate [LEARNERS] [CARDS]
Makes hand-ins by the form that docs/class.md tells, has the program take them in, show the class and export it.
"""

import hashlib
import json
import math
import os
import random
import re
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import duckdb

program = os.path.abspath(sys.argv[1])
learners = int(sys.argv[2]) if len(sys.argv) > 2 else 1000
cards = int(sys.argv[3]) if len(sys.argv) > 3 else 400
random.seed(20261201)
docs = Path(__file__).parent.parent / "docs/fleet.md"
DAY = 86_400_000
START = 1_780_000_000_000


def sigmoid(x):
    return 1 / (1 + math.exp(-x))


def assignment():
    of = [
        {"card": f"made-up/c{n}", "topic": f"A-III/1.{1 + n % 2}.{1 + n % 3}", "weight": 1 + n % 3}
        | ({"heading": f"Heading {n // 20}"} if n % 17 else {})
        for n in range(cards)
    ]
    deck = {"id": "made-up", "title": "Made up", "edition": 1}
    return {"id": "assignment-one", "class": {"id": "class-one", "name": "Year"}, "made": START, "decks": [deck], "cards": of}


def attempts(learner, able, hardness):
    out = []
    meets_all = random.random() < 0.6
    for n in range(cards):
        if not meets_all and random.random() < 0.3:
            continue
        for again in range(1 + random.randrange(4) + (n % 2)):
            right = random.random() < sigmoid(able - hardness[n] + again)
            at = START + (n * 5 + again * 37 + random.randrange(30)) * DAY // 10 + random.randrange(DAY)
            said = [p for p in (1, 2, 3) if right or random.random() < 0.4]
            one = {
                "id": f"{learner}-{n}-{again}", "card": f"made-up/c{n}", "at": at, "ship": 0,
                "outcome": random.choice(["answered", "fluent"] if right else ["missed", "prompted"]),
                "seconds": round(random.uniform(3, 90), 2), "edition": 1 + (n % 5 == 0 and random.random() < 0.5),
                "said": said, "missed": [p for p in (1, 2, 3) if p not in said],
            }
            if random.random() < 0.03:
                one["notch"] = random.choice(["up", "down"])
            if random.random() < 0.01:
                one["voided"] = True
            out.append(one)
    return out


def hand_in(folder, learner, hardness):
    body = {
        "assignment": assignment(), "learner": f"learner-{learner}", "name": f"Learner {learner}", "made": START + 400 * DAY,
        "with_answers": False, "attempts": attempts(learner, random.gauss(0, 1), hardness), "faults": [],
    }
    line = json.dumps(body).encode() + b"\n"
    path = folder / f"{learner}.handin"
    path.write_bytes(b"bedplate hand-in 1\nsha256 " + hashlib.sha256(line).hexdigest().encode() + b"\n" + line)
    return path, len(body["attempts"])


def near(found, given, what, worst):
    if given is None or (isinstance(given, float) and math.isnan(given)):
        assert found is None, (what, found, given)
        return
    assert found is not None, (what, found, given)
    assert abs(found - given) <= 1e-9 * max(1, abs(given)), (what, found, given)
    worst[0] = max(worst[0], abs(found - given))


with tempfile.TemporaryDirectory(prefix="bedplate-fleet-") as at:
    at = Path(at)
    environment = dict(os.environ, BEDPLATE_HOME=str(at / "home"))
    hardness = [random.gauss(0, 1) for _ in range(cards)]
    made = [hand_in(at, learner, hardness) for learner in range(learners)]
    print(f"{sum(n for _, n in made)} attempts of {learners} learners at {cards} cards")

    def call(*arguments):
        began = time.monotonic()
        out = subprocess.run([program, *arguments], env=environment, cwd=at, capture_output=True, text=True)
        assert out.returncode == 0, out.stderr[:2000]
        print(f"  bedplate {arguments[0]} {arguments[1]}: {time.monotonic() - began:.1f} s")
        return out.stdout

    call("class", "add", "Year", *[str(path) for path, _ in made])
    show = json.loads(call("class", "show", "Year", "--json", "--minutes", "600"))
    call("class", "export", "Year", "--parquet", "out")
    sql = "".join(re.findall(r"```sql\n(.*?)```", docs.read_text(), re.S)).replace("DIR", str(at / "out"))
    began = time.monotonic()
    db = duckdb.connect()
    for statement in sql.split(";"):
        if statement.strip():
            db.execute(statement)
    worst = [0.0]
    rows = {card: rest for card, *rest in db.execute("select card, n, facility, discrimination from items").fetchall()}
    said = {(card, point): (n, share) for card, point, n, share in db.execute("select card, point, n, said from points").fetchall()}
    points = 0
    for item in show["items"]:
        n, facility, discrimination = rows[item["card"]]
        assert n == item["n"], item
        near(facility, item["facility"], item["card"], worst)
        near(discrimination, item["discrimination"], item["card"], worst)
        for point in item["points"]:
            n, share = said[(item["card"], point["point"])]
            assert n == point["n"], (item, n)
            near(share, point["said"], item["card"], worst)
            points += 1
    assert points == len(said)
    areas = {(t, h): (n, share) for t, h, n, share in db.execute("select topic, heading, n, first_right from areas").fetchall()}
    assert len(areas) == len(show["areas"])
    for area in show["areas"]:
        n, share = areas[(area["topic"], area["heading"])]
        assert n == area["n"], area
        near(share, area["first_right"], area, worst)
    roster = {name: rest for name, *rest in db.execute("select name, met, r.first_right from roster r join learners using (class, learner)").fetchall()}
    for learner in show["learners"]:
        met, share = roster[learner["name"]]
        assert met == learner["met"], learner
        near(share, learner["first_right"], learner["name"], worst)
    n, k, alpha, sem = db.execute("select n, k, alpha, sem from reliability").fetchone()
    assert (n, k) == (show["reliability"]["learners"], show["reliability"]["items"])
    near(alpha, show["reliability"]["alpha"], "alpha", worst)
    near(sem, show["reliability"]["sem"], "sem", worst)
    gains = [g for g, in db.execute("select gain from gains order by gain desc").fetchall()]
    for part, gain in zip(show["lesson"], gains):
        near(gain, part["gain"], part["heading"], worst)
    assert show["lesson"]
    print(f"  SQL: {time.monotonic() - began:.1f} s")
    print(
        f"equal: {len(show['items'])} cards, {points} points, {len(areas)} areas, {len(roster)} learners, alpha {alpha:.4f} over {n}, "
        f"{len(show['lesson'])} headings of the lesson; the greatest difference is {worst[0]:.1e}"
    )
