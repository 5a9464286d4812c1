"""Networks with their reachability and smallest cuts, computed by networkx 3.6.1 (python3 -m pip install networkx).

    python3 tests/networks/networks.py > tests/networks/networks.txt

Nothing here knows the program under test. The model, written out once more:

- Every device has a supply side and a load side. A feed connects the load side of what feeds with the supply side of
  what is fed. Energy passes a feed either way.
- source: its load side is live. isolator: connects its sides, unless it is open. switch, cutout: connect their sides,
  open or not. busbar: connects its sides. transformer: connects its sides. converter: energy passes from the supply
  side to the load side only. ups: its load side is live; its feeds end at it.
- changeover: connects its load side to any one of its feeds, any position being possible; never two feeds.
  With an off position it isolates: opened, it connects nothing.
- Opening a device of a coupled interlock opens all of that interlock.
- The live parts of a row hang on the load side of its circuit.
- live: with everything opened that the rows declare, energy reaches live parts in some position of the changeovers.
- A UPS may feed back from its supply side: if that may reach live parts, the result is unknown; a cut must part it too.
- A board that is not fed is a gap: if it reaches live parts, the result is unknown, and no cut is stated.
- The smallest cut: the fewest operations (devices that isolate; a coupled interlock is one) after which neither a
  source nor a UPS reaches any live part.

How networkx finds it: reachability with `descendants`, one graph for each position. The smallest cut with
`minimum_cut` where there is neither a changeover nor an interlock, every device being an edge of capacity one, and, for
every network, by trying sets of growing size with `descendants`; the two are compared.
"""

import itertools
import random

import networkx

VERSION = "3.6.1"
MOST_OPERATIONS = 5


class Network:
    """Devices by name, each with its kind and what feeds it."""

    def __init__(self, title):
        self.title = title
        self.kinds = {}
        self.feeds = {}
        self.interlocks = {}
        self.rows = []

    def add(self, name, kind, *feeds, interlock=None):
        self.kinds[name] = kind
        self.feeds[name] = list(dict.fromkeys(feeds))
        if interlock:
            self.interlocks[name] = interlock
        return name

    def row(self, circuit, *isolators):
        self.rows.append((circuit, sorted(set(isolators))))

    def isolates(self, name):
        return self.kinds[name] in ("isolator", "changeover-off")

    def operation(self, name):
        """All that is opened together with a device."""
        interlock = self.interlocks.get(name)
        if not interlock:
            return frozenset([name])
        return frozenset(other for other, its in self.interlocks.items() if its == interlock)

    def operations(self):
        return sorted({self.operation(name) for name in self.kinds if self.isolates(name)}, key=sorted)

    def positions(self):
        changeovers = [name for name, kind in self.kinds.items() if kind.startswith("changeover")]
        for choice in itertools.product(*(self.feeds[name] or [None] for name in changeovers)):
            yield dict(zip(changeovers, choice))

    def graph(self, position, opened):
        """A directed graph of sides along which energy spreads."""
        graph = networkx.DiGraph()

        def both(one, other):
            graph.add_edge(one, other)
            graph.add_edge(other, one)

        for name, kind in self.kinds.items():
            above, below = (name, "supply"), (name, "load")
            graph.add_node(above)
            graph.add_node(below)
            is_open = name in opened and self.isolates(name)
            if kind in ("switch", "cutout", "busbar", "transformer") or kind == "isolator" and not is_open:
                both(above, below)
            if kind == "converter":
                graph.add_edge(above, below)
            for feed in self.feeds[name]:
                if kind.startswith("changeover"):
                    if position[name] == feed and not is_open:
                        both((feed, "load"), below)
                elif kind == "ups":
                    # Its feeds do not meet in it; what it feeds back begins on its supply side.
                    graph.add_edge(above, (feed, "load"))
                else:
                    both((feed, "load"), above)
        # Nothing is searched beyond what is live in any case.
        for name, kind in self.kinds.items():
            if kind in ("source", "ups"):
                graph.remove_edges_from(list(graph.in_edges((name, "load"))))
        return graph

    def origins(self, what):
        if what == "energy":
            return [(name, "load") for name, kind in self.kinds.items() if kind in ("source", "ups")]
        if what == "back-feed":
            return [(name, "supply") for name, kind in self.kinds.items() if kind == "ups"]
        return [
            (name, "supply")
            for name, kind in self.kinds.items()
            if kind not in ("source", "ups") and not self.feeds[name]
        ]

    def reaches(self, what, opened):
        """The circuits that something reaches in some position."""
        reached = set()
        for position in self.positions():
            graph = self.graph(position, opened)
            for origin in self.origins(what):
                reached |= networkx.descendants(graph, origin) | {origin}
        return {circuit for circuit, _ in self.rows if (circuit, "load") in reached}

    def result(self):
        opened = frozenset().union(*(self.operation(name) for _, names in self.rows for name in names))
        if self.reaches("energy", opened):
            return "live"
        if self.reaches("back-feed", opened) or self.reaches("gap", opened):
            return "unknown"
        return "no-path-found"

    def cut(self):
        """How many operations the smallest cut takes; None where there is none, a text where it was not searched."""
        if self.reaches("gap", frozenset()) or not self.reaches("energy", frozenset()):
            return None
        everything = frozenset().union(*self.operations())
        if self.reaches("energy", everything) or self.reaches("back-feed", everything):
            return None
        tried = self.cut_by_trying()
        if not self.interlocks and not any(kind.startswith("changeover") for kind in self.kinds.values()):
            flow = self.cut_by_flow()
            assert tried in (flow, None) and (tried or flow > MOST_OPERATIONS), (self.title, tried, flow)
            return flow
        return "not searched" if tried is None else tried

    def cut_by_trying(self):
        operations = self.operations()
        for size in range(min(len(operations), MOST_OPERATIONS) + 1):
            for chosen in itertools.combinations(operations, size):
                opened = frozenset().union(*chosen)
                if not self.reaches("energy", opened) and not self.reaches("back-feed", opened):
                    return size
        return None

    def cut_by_flow(self):
        graph = self.graph({}, frozenset())
        flow = networkx.DiGraph()
        for one, other in graph.edges:
            if one[0] == other[0] and self.isolates(one[0]):
                flow.add_edge(one, (one[0], "near"))
                flow.add_edge((one[0], "near"), (one[0], "far"), capacity=1)
                flow.add_edge((one[0], "far"), other)
            else:
                flow.add_edge(one, other)
        for origin in self.origins("energy") + self.origins("back-feed"):
            flow.add_edge("origin", origin)
        for circuit, _ in self.rows:
            flow.add_edge((circuit, "load"), "enclosure")
        size, _ = networkx.minimum_cut(flow, "origin", "enclosure")
        return int(size)

    def text(self):
        lines = [f"network {self.title}"]
        for name, kind in self.kinds.items():
            feeds = " + ".join(self.feeds[name])
            lines.append(",".join([name, kind, feeds, self.interlocks.get(name, "")]).rstrip(","))
        for circuit, isolators in self.rows:
            lines.append(f"row {circuit} opens {' + '.join(isolators)}")
        cut = self.cut()
        lines.append(f"result {self.result()}")
        if cut != "not searched":
            lines.append(f"cut {'none' if cut is None else cut}")
        return "\n".join(lines)


def board(network, name, feed):
    """A board behind its incomer."""
    network.add(f"Q-{name}", "isolator", feed)
    return network.add(name, "busbar", f"Q-{name}")


def tree(chance, number):
    network = Network(f"{number}: boards as a tree")
    network.add("Mains", "source")
    boards = [board(network, "MB", "Mains")]
    for index in range(chance.randint(2, 7)):
        boards.append(board(network, f"B{index}", chance.choice(boards)))
    circuits = [network.add(f"Q{index}", "isolator", chance.choice(boards)) for index in range(chance.randint(2, 8))]
    rows(chance, network, circuits, boards)
    return network


def two_transformers(chance, number):
    network = Network(f"{number}: two transformers with a bus coupler")
    for side in "AB":
        network.add(f"Mains-{side}", "source")
        network.add(f"T-{side}", "transformer", f"Mains-{side}")
        network.add(f"Q-T{side}", "isolator", f"T-{side}")
    coupler = chance.choice(["isolator", "switch"])
    network.add("MB-A", "busbar", "Q-TA")
    network.add("Tie", coupler, "MB-A")
    network.add("MB-B", "busbar", "Q-TB", "Tie")
    boards = ["MB-A", "MB-B"] + [board(network, f"B{i}", chance.choice(["MB-A", "MB-B"])) for i in range(3)]
    circuits = [network.add(f"Q{index}", "isolator", chance.choice(boards)) for index in range(chance.randint(2, 5))]
    rows(chance, network, circuits, boards)
    return network


def ring(chance, number):
    network = Network(f"{number}: a ring of boards")
    network.add("Mains", "source")
    network.add("Q0", "isolator", "Mains")
    count = chance.randint(3, 6)
    network.add("R0", "busbar", "Q0")
    boards = ["R0"]
    for index in range(1, count):
        network.add(f"L{index}", "isolator", f"R{index - 1}")
        feeds = [f"L{index}"]
        if index == count - 1:
            feeds.append(network.add("L0", "isolator", "R0"))
        boards.append(network.add(f"R{index}", "busbar", *feeds))
    if chance.random() < 0.5:
        network.add("Solar", "source")
        network.add("Inverter", "converter", "Solar")
        network.add("Q-Solar", "isolator", "Inverter")
        last = boards[-1]
        network.feeds[last].append("Q-Solar")
    circuits = [network.add(f"Q{index}", "isolator", chance.choice(boards)) for index in range(chance.randint(1, 4), 6)]
    rows(chance, network, circuits, boards)
    return network


def generator(chance, number):
    network = Network(f"{number}: a generator and a changeover")
    network.add("Mains", "source")
    boards = [board(network, "MB", "Mains")]
    network.add("Set", "source")
    network.add("Q-Set", "isolator", "Set")
    network.add("Q-Essential", "isolator", "MB")
    network.add("X", chance.choice(["changeover", "changeover-off"]), "Q-Essential", "Q-Set")
    feeds = ["X"]
    if chance.random() < 0.4:
        network.add("Solar", "source")
        feeds.append(network.add("Q-Solar", "isolator", "Solar"))
    boards.append(network.add("EB", "busbar", *feeds))
    for index in range(chance.randint(1, 4)):
        boards.append(board(network, f"B{index}", chance.choice(boards)))
    if chance.random() < 0.4:
        network.add("X2", chance.choice(["changeover", "changeover-off"]), boards[-1], chance.choice(boards[:-1]))
        boards.append(network.add("CB", "busbar", "X2"))
    circuits = [network.add(f"Q{index}", "isolator", chance.choice(boards)) for index in range(chance.randint(1, 5))]
    rows(chance, network, circuits, boards)
    return network


def ups(chance, number):
    network = Network(f"{number}: a UPS and what it feeds")
    network.add("Mains", "source")
    boards = [board(network, "MB", "Mains")]
    for index in range(chance.randint(1, 2)):
        feeds = [network.add(f"Q-U{index}", "isolator", chance.choice(boards))]
        if chance.random() < 0.4:
            feeds.append(network.add(f"Q-Bypass{index}", "isolator", chance.choice(boards)))
        network.add(f"U{index}", "ups", *feeds)
        boards.append(board(network, f"UB{index}", f"U{index}"))
    boards.append(board(network, "B0", "MB"))
    circuits = [network.add(f"Q{index}", "isolator", chance.choice(boards)) for index in range(chance.randint(2, 5))]
    rows(chance, network, circuits, boards)
    return network


def interlocks(chance, number):
    network = Network(f"{number}: coupled interlocks")
    for index in range(chance.randint(2, 4)):
        network.add(f"S{index}", "source")
        board(network, f"MB{index}", f"S{index}")
    boards = [name for name, kind in network.kinds.items() if kind == "busbar"]
    circuits = []
    for index in range(chance.randint(1, 3)):
        for side in "ab":
            name = f"C{index}{side}"
            circuits.append(network.add(name, "isolator", chance.choice(boards), interlock=f"IL-{index}"))
    circuits += [network.add(f"Q{index}", "isolator", chance.choice(boards)) for index in range(chance.randint(0, 3))]
    if chance.random() < 0.5:
        joined = chance.sample(circuits, 2)
        network.add("J", "busbar", *joined)
        circuits.append("J")
    rows(chance, network, [name for name in circuits if name != "J"], boards + (["J"] if "J" in circuits else []))
    return network


def anything(chance, number):
    network = Network(f"{number}: anything that feeds anything")
    network.add("N0", "source")
    kinds = ["isolator"] * 10 + ["busbar"] * 5 + ["source"] * 2 + ["switch", "cutout", "transformer", "converter", "ups"]
    kinds += ["changeover", "changeover-off"]
    changeovers = 0
    for index in range(1, chance.randint(8, 40)):
        kind = chance.choice(kinds)
        if kind.startswith("changeover"):
            changeovers += 1
            kind = kind if changeovers <= 3 else "isolator"
        names = list(network.kinds)
        count = 0 if kind == "source" or kind == "busbar" and chance.random() < 0.05 else chance.choice([1, 1, 1, 2])
        feeds = chance.sample(names[-12:], min(count, len(names[-12:])))
        network.add(f"N{index}", kind, *feeds)
    devices = [name for name, kind in network.kinds.items() if network.isolates(name)]
    others = [name for name, kind in network.kinds.items() if kind in ("busbar", "switch", "transformer", "converter")]
    rows(chance, network, devices[-8:] or ["N0"], others[-5:])
    return network


def is_below(network, upper, lower):
    """Whether a device lies below another, following what feeds it."""
    waiting, seen = list(network.feeds[lower]), set()
    while waiting:
        name = waiting.pop()
        if name == upper:
            return True
        if name not in seen:
            seen.add(name)
            waiting += network.feeds[name]
    return False


def rows(chance, network, circuits, boards):
    """Rows whose circuit hangs on its isolator or on a board, and some of whose isolators are not the right ones.

    No isolator of a row lies below its circuit: the row would hang on the isolator instead.
    """
    devices = [name for name in network.kinds if network.isolates(name)]
    for _ in range(chance.randint(1, 3)):
        circuit = chance.choice(boards) if boards and chance.random() < 0.3 else chance.choice(circuits)
        chosen = chance.sample(devices, min(len(devices), chance.randint(1, 2)))
        if network.isolates(circuit) and chance.random() < 0.75:
            chosen.append(circuit)
        elif boards and chance.random() < 0.6:
            chosen += [name for name in devices if name in network.feeds[circuit]]
        chosen = [name for name in chosen if name == circuit or not is_below(network, circuit, name)]
        if chosen:
            network.row(circuit, *chosen)
    if not network.rows:
        circuit = next(name for name in circuits + devices if network.isolates(name))
        network.row(circuit, circuit)


SHAPES = [(tree, 60), (two_transformers, 60), (ring, 60), (generator, 70), (ups, 50), (interlocks, 60), (anything, 140)]


def main():
    assert networkx.__version__ == VERSION, f"networkx {VERSION} is named in the data"
    chance = random.Random(514)
    print(f"# Computed by networkx {VERSION} with networks.py, which documents the model. Do not edit.")
    number = 0
    for shape, count in SHAPES:
        for _ in range(count):
            number += 1
            print()
            print(shape(chance, number).text())


if __name__ == "__main__":
    main()
