"""Answers questions about graphs with networkx.

Reads a JSON list of simple graphs from standard input and writes a list of
answers in the same order to standard output. Edges are named by their position.
"""

import json
import sys

import networkx as nx


def answer(q):
    n, edges, s, t = q["nodes"], q["edges"], q["s"], q["t"]
    g = nx.Graph()
    g.add_nodes_from(range(n))
    d = nx.DiGraph()
    d.add_nodes_from(range(n))
    ids = {}
    for i, e in enumerate(edges):
        u, v = e["U"], e["V"]
        ids[u, v] = ids[v, u] = i
        g.add_edge(u, v, length=q["length"][i], top=max(q["height"][u], q["height"][v]))
        d.add_edge(u, v, capacity=q["cost"][i])
        if not e["OneWay"]:
            d.add_edge(v, u, capacity=q["cost"][i])

    blocks = [sorted(ids[u, v] for u, v in b) for b in nx.biconnected_component_edges(g)]
    distance = nx.single_source_dijkstra_path_length(g, s, weight="length")

    # The edges on simple paths from s to t are those that share a block with an
    # edge joining s and t.
    joined = nx.has_path(g, s, t)
    closed = g.copy()
    closed.add_edge(s, t)
    between = []
    if joined:
        for b in nx.biconnected_component_edges(closed):
            b = list(b)
            if (s, t) in b or (t, s) in b:
                between = sorted(ids[e] for e in b if e in ids)

    # The way over a minimum spanning tree has the lowest top of all ways (T. C. Hu,
    # "The maximum capacity route problem", Operations Research 9, 1961).
    tree = nx.minimum_spanning_tree(g, weight="top")
    spill = [None] * n
    for v, path in nx.single_source_shortest_path(tree, t).items():
        spill[v] = max(q["height"][x] for x in path)

    return {
        "blocks": sorted(blocks),
        "bridges": sorted(ids[e] for e in nx.bridges(g)),
        "articulation": sorted(nx.articulation_points(g)),
        "components": sorted(sorted(c) for c in nx.connected_components(g)),
        "downstream": sorted(nx.descendants(d, s) | {s}),
        "flow": nx.maximum_flow_value(d, s, t),
        "between": between,
        "distance": [distance.get(v) for v in range(n)],
        "spill": spill,
    }


json.dump([answer(q) for q in json.load(sys.stdin)], sys.stdout)
