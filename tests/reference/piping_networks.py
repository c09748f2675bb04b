"""Random networks of pipes with their shortest paths and fewest openings by networkx.

Run with Python 3.11 and networkx 3.6.1:  python3 piping_networks.py > piping_networks.toml

A network becomes a directed graph: each pipe gives an arc either way, except where a node that passes one way only (pump,
non-return and the like) forbids one of them. From an end (a tank and the like) flow goes on only where it starts.
- `length` of a pair: nodes on the shortest path (nx.shortest_path_length + 1) once all that is shut has been taken out; 0
  where nx.has_path says no.
- `openings`: the least number of shut valves on a path, by nx.dijkstra_path_length with a weight of one on every arc into a
  valve that is shut (and one more where the path starts in such a valve); -1 where there is no path.
- `needed`: the valves without which there is no path even with all others open: nx.has_path with each taken out.
- `least`: the least number of open valves with a path, by nx.dijkstra_path_length over all valves.
There are no three-way valves in these networks: what they do is checked against brute force instead.
"""

import random
import networkx as nx

ENDS = ["tank", "sea-chest", "overboard", "receiver"]
SHUT = ["valve", "quick-closing", "screw-down-non-return"]
ONE_WAY = ["non-return", "pump", "compressor", "screw-down-non-return"]
THROUGH = ["filter", "cooler", "heater", "engine", "junction"]


def network(rng, count, extra, shut_share):
    nodes = []
    for _ in range(count):
        dice = rng.random()
        if dice < shut_share:
            kind = rng.choice(SHUT)
            fixed = rng.random() < 0.1
            nodes.append((kind, fixed, fixed and rng.random() < 0.5))
        else:
            kinds = ENDS if dice < shut_share + 0.12 else ONE_WAY[:3] if dice < shut_share + 0.24 else THROUGH
            nodes.append((rng.choice(kinds), False, False))
    pipes = []
    for at in range(1, count):
        other = rng.randrange(max(0, at - 6), at)
        pipes.append((other, at) if rng.random() < 0.8 else (at, other))
    for _ in range(extra):
        pipes.append(tuple(rng.sample(range(count), 2)))
    return nodes, pipes


def graph(nodes, pipes, source, without):
    """The arcs that flow from `source` can take when the nodes `without` are taken out."""
    made = nx.DiGraph()
    made.add_nodes_from(at for at in range(len(nodes)) if at not in without)
    for a, b in pipes:
        for u, v in ((a, b), (b, a)):
            backward = (u, v) == (b, a)
            if u in without or v in without:
                continue
            if backward and (nodes[u][0] in ONE_WAY or nodes[v][0] in ONE_WAY):
                continue
            if nodes[u][0] in ENDS and u != source:
                continue
            made.add_edge(u, v)
    return made


def costs(made, source, target, shut):
    """Least number of nodes of `shut` on a path, its own ends included; -1 where there is none."""
    if source not in made or target not in made or not nx.has_path(made, source, target):
        return -1
    for u, v in made.edges:
        made[u][v]["weight"] = 1 if v in shut else 0
    return nx.dijkstra_path_length(made, source, target) + (1 if source in shut else 0)


def main():
    rng = random.Random(20251125)
    print("# Made by piping_networks.py in this folder with networkx", nx.__version__ + "; what the figures mean stands there.")
    shapes = [(8, 4, 0.4)] * 30 + [(16, 8, 0.45)] * 30 + [(40, 14, 0.5)] * 15 + [(100, 25, 0.5)] * 5
    for count, extra, share in shapes:
        nodes, pipes = network(rng, count, extra, share)
        turnable = [at for at, (kind, fixed, _) in enumerate(nodes) if kind in SHUT and not fixed]
        fixed_shut = {at for at, (kind, fixed, is_open) in enumerate(nodes) if kind in SHUT and fixed and not is_open}
        opened = [at for at in turnable if rng.random() < 0.5]
        shut = set(turnable) - set(opened)
        print("\n[[network]]")
        words = [kind + (" fixed" if fixed else "") + (" open" if is_open else "") for kind, fixed, is_open in nodes]
        print("nodes = [" + ", ".join(f'"{word}"' for word in words) + "]")
        print("pipes = [" + ", ".join(f"[{a}, {b}]" for a, b in pipes) + "]")
        print(f"open = {opened}")
        pairs = []
        for _ in range(6):
            source, target = rng.sample(range(count), 2)
            now = graph(nodes, pipes, source, fixed_shut | shut)
            has = source in now and target in now and nx.has_path(now, source, target)
            length = nx.shortest_path_length(now, source, target) + 1 if has else 0
            whole = graph(nodes, pipes, source, fixed_shut)
            openings = costs(whole, source, target, shut)
            least = costs(whole, source, target, set(turnable))
            needed = []
            if least >= 0:
                for at in turnable:
                    less = graph(nodes, pipes, source, fixed_shut | {at})
                    if at in (source, target) or not nx.has_path(less, source, target):
                        needed.append(at)
            pairs.append(f"{{ from = {source}, to = {target}, length = {length}, openings = {openings}, least = {least}, needed = {needed} }}")
        print("pairs = [\n  " + ",\n  ".join(pairs) + ",\n]")


main()
