"""Answers, by networkx and enumeration, what the rules on ways should find.

Reads a list of circuits from standard input as JSON and writes a list of answers. A
circuit is nodes, edges and steps; nothing of the program's own searches is in it.
"""

import json
import sys
from itertools import chain

import networkx as nx

WALL = 0.050 / 2  # half the bore of the tubes, m


class Circuit:
    def __init__(self, c):
        self.nodes, self.edges, self.parts = c["nodes"], c["edges"], c["parts"]
        self.at = [[] for _ in self.nodes]
        for i, e in enumerate(self.edges):
            self.at[e["u"]].append(i)
            if e["v"] != e["u"]:
                self.at[e["v"]].append(i)

    def digraph(self, open_):
        g = nx.MultiDiGraph()
        g.add_nodes_from(range(len(self.nodes)))
        for i, e in enumerate(self.edges):
            if open_[i] and not e["dry"]:
                g.add_edge(e["u"], e["v"], key=i)
                if not e["one_way"]:
                    g.add_edge(e["v"], e["u"], key=i)
        return g

    def part(self, n):
        return self.nodes[n]["part"]

    def is_vessel(self, n):
        return self.nodes[n]["role"] == "vessel"


def flowing(c, step):
    """Edges on any simple path from source to destination."""
    g = c.digraph(step["open"])
    return set(chain.from_iterable([k for _, _, k in p] for p in nx.all_simple_edge_paths(g, step["source"], step["dest"])))


def wetted(c, step, flow):
    """Edges that liquid reaches: from the source and from all that flows, not out of a
    vessel beside the flow nor beyond the destination."""
    wet, flows = set(flow), {n for e in flow for n in (c.edges[e]["u"], c.edges[e]["v"])}
    changed = True
    while changed:
        changed = False
        for i, e in enumerate(c.edges):
            if i in wet or not step["open"][i] or e["dry"]:
                continue
            for n in (e["u"], e["v"]):
                if e["one_way"] and n != e["u"] or n == step["dest"]:
                    continue
                from_wet = any(f in wet and (not c.edges[f]["one_way"] or c.edges[f]["v"] == n) for f in c.at[n])
                if n == step["source"] or n in flows or not c.is_vessel(n) and from_wet:
                    wet.add(i)
                    changed = True
    return wet


def legs(c, step, flow, wet):
    """Dead ends: their edges, where they end, how long they are, whether they run out
    to a sewer. Length None where the leg has a ring."""
    flows = {n for e in flow for n in (c.edges[e]["u"], c.edges[e]["v"])}
    out = []
    for root in sorted(flows - {step["source"], step["dest"]}):
        taken = set()
        for first in c.at[root]:
            if first in taken or first not in wet or first in flow:
                continue
            group, border = {first}, [first]
            while border:
                e = c.edges[border.pop()]
                for n in (e["u"], e["v"]):
                    if n in flows or c.is_vessel(n) or n in (step["source"], step["dest"]):
                        continue
                    for f in c.at[n]:
                        if f in wet and f not in flow and f not in group:
                            group.add(f)
                            border.append(f)
            taken |= group
            g = nx.MultiGraph()
            for i in group:
                e = c.edges[i]
                g.add_edge(e["u"], e["v"], key=i, weight=axis(c, i, root, flow))
            if len(group) == 1:
                end = ({c.edges[first]["u"], c.edges[first]["v"]} - {root} or {root}).pop()
                if c.edges[first]["length"] == 0 and c.nodes[end]["role"] == "" and c.part(end) and len(c.at[end]) == 1:
                    continue  # a port on which nothing is mounted
            tree = nx.number_of_edges(g) == nx.number_of_nodes(g) - 1
            far = nx.single_source_dijkstra_path_length(g, root)
            ends = sorted(((far[n], n) for n in g if n != root), reverse=True)
            mouths = sorted((far[n], n) for n in g if n != root and
                            (c.is_vessel(n) or c.nodes[n]["role"] == "air" or c.nodes[n]["mouth"] or n in (step["source"], step["dest"])))
            out.append({"edges": group, "end": ends[0][1] if ends else root, "length": ends[0][0] if tree and ends else None,
                        "tie": len(ends) > 1 and abs(ends[0][0] - ends[1][0]) < 1e-9,
                        "sewer": bool(mouths) and "sewer" in c.parts.get(c.part(mouths[0][1]), {}).get("traits", []),
                        "vague": len(mouths) > 1 and abs(mouths[0][0] - mouths[1][0]) < 1e-9})
    return out


def axis(c, i, root, flow):
    """Length along the axis as it counts in a leg from root: a branch is told from the
    wall of its main."""
    e = c.edges[i]
    tee = next((n for n in (e["u"], e["v"]) if c.nodes[n]["role"] == "tee"), None)
    length = e["length"]
    if tee is None:
        return length
    if e["branch"]:
        return length if tee == root else length + WALL
    if tee == root and any(f in flow and c.edges[f]["branch"] for f in c.at[tee]):
        return max(length - WALL, 0)
    return length


def behind(c, step, wet):
    """Parts behind whose shut seats product stands: one seat, or two with no drained
    space between."""
    nodes = {n for e in wet for n in (c.edges[e]["u"], c.edges[e]["v"])}
    g = nx.Graph()
    g.add_nodes_from(range(len(c.nodes)))
    g.add_edges_from((e["u"], e["v"]) for i, e in enumerate(c.edges) if i not in wet and step["open"][i] and not e["dry"])
    space = {}
    for k, members in enumerate(nx.connected_components(g)):
        for n in members:
            space[n] = k
    product, drained = set(), set()
    own = {c.part(step["source"]), c.part(step["dest"]), *step["cleans"]}
    for n, x in enumerate(c.nodes):
        traits = c.parts.get(x["part"], {}).get("traits", [])
        if x["part"] in own:
            continue
        if x["role"] == "air" and "vent" not in traits:
            drained.add(space[n])
        elif x["terminal"] and c.parts[x["part"]]["medium"] == "product":
            product.add(space[n])
    seats = [(c.edges[i]["u"], c.edges[i]["v"], c.edges[i]["part"]) for i in range(len(c.edges))
             if not step["open"][i] and i not in wet and c.parts.get(c.edges[i]["part"], {}).get("class") == "valve"]
    both = [(a, b, p) for a, b, p in seats] + [(b, a, p) for a, b, p in seats]
    found = set()
    for near, far, part in both:
        if near not in nodes or far in nodes:
            continue
        if space[far] in product:
            found.add(part)
        if space[far] in drained:
            continue
        for a, b, other in both:
            if space[a] == space[far] and other != part and space[b] != space[far] and b not in nodes and space[b] in product:
                found.add(part)
    return found


def answer(raw):
    c = Circuit(raw)
    out = {"loose": [], "no_route": [], "wrong_way": [], "open_to": [], "never": [], "undrained": [], "legs": [], "product": [], "skip": []}
    g = nx.Graph()
    g.add_nodes_from(c.parts)
    g.add_edges_from(raw["joins"])
    groups = sorted((sorted(x) for x in nx.connected_components(g)), key=lambda x: (-len(x), x[0]))
    out["loose"] = sorted(groups[1:])
    everwet, swept, cleanwet, promised = set(), set(), set(), {}
    legs_found, product, open_to, never = set(), set(), set(), set()
    one_ways = any(e["one_way"] and c.parts.get(e["part"], {}).get("class") != "vessel" for e in c.edges)
    for step in raw["steps"]:
        flow = flowing(c, step)
        if not flow:
            free = [dict(e, one_way=e["one_way"] and c.parts.get(e["part"], {}).get("class") == "vessel") for e in c.edges]
            other = Circuit(dict(raw, edges=free))
            inlets = [dict(e, one_way=False) for e in c.edges]
            if flowing(other, step):
                out["wrong_way"].append(step["id"])
            elif flowing(Circuit(dict(raw, edges=inlets)), step):
                out["skip"].append("way out by an inlet")
            else:
                out["no_route"].append(step["id"])
        wet = wetted(c, step, flow)
        everwet |= wet
        if not flow:
            continue
        dead = legs(c, step, flow, wet)
        own = {c.part(step["source"]), c.part(step["dest"]), *step["cleans"]}
        for part, x in c.parts.items():
            touched = any(c.edges[e]["part"] == part for e in wet)
            if part in own or not touched or x["class"] not in ("vessel", "terminal") or "vent" in x["traits"]:
                continue
            if "sewer" in x["traits"] or x["medium"] != step["medium"]:
                open_to.add(part)
        leaks = {e for leg in dead if leg["sewer"] for e in leg["edges"]}
        if any(leg["vague"] for leg in dead):
            out["skip"].append("two mouths equally near")
        swept |= flow
        cleanwet |= wet - leaks
        for part in step["cleans"]:
            promised[part] = promised.get(part, False) or any(c.edges[e]["part"] == part for e in flow)
        for leg in dead:
            if leg["sewer"]:
                continue
            if leg["length"] is None or leg["tie"] or abs(leg["length"] - raw["limit"]) < 1e-6:
                out["skip"].append("a ring, or two ends equally far")
            elif leg["length"] > raw["limit"]:
                legs_found.add(c.nodes[leg["end"]]["label"])
        product |= behind(c, step, wet)
    for part, x in c.parts.items():
        touches = lambda edges: any(c.edges[e]["part"] == part for e in edges)
        if part in promised and not promised[part] or x["class"] == "object" and touches(cleanwet) and not touches(swept):
            never.add(part)
    everything = c.digraph([True] * len(c.edges))
    sewers = [n for n, x in enumerate(c.nodes) if x["role"] == "air" and "sewer" in c.parts[x["part"]]["traits"]]
    drained = set(sewers)
    for s in sewers:
        drained |= nx.ancestors(everything, s)
    out["undrained"] = sorted({e["part"] or e["run"] for i, e in enumerate(c.edges) if i in everwet and
                               "storage" not in c.parts.get(e["part"], {}).get("traits", []) and not (e["u"] in drained and e["v"] in drained)})
    out["open_to"], out["never"], out["legs"], out["product"] = sorted(open_to), sorted(never), sorted(legs_found), sorted(product)
    out["one_ways"] = one_ways
    return out


json.dump([answer(c) for c in json.load(sys.stdin)], sys.stdout)
