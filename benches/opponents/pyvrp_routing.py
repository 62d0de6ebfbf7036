"""Published routing instances by PyVRP, to hold against evenrun's own results: the total distance is to be short.

    python3 pyvrp_routing.py FILE... --seconds 30 --seed 1 --best best_known.csv

Each FILE is in Solomon's format. Distances are Euclidean and cut to one decimal, that is, whole tenths, and so are travel
times; the total distance is minimised, and vehicles are free up to the file's number. The file of `--best` has the columns `instance`
and `cost`. Needs PyPI's package pyvrp, in an environment of its own; the project does not depend on it. PyVRP uses one thread.
"""

import argparse
import csv
import math
from pathlib import Path

import numpy
from pyvrp import Client, Depot, Location, ProblemData, VehicleType, solve
from pyvrp.stop import MaxRuntime


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("files", nargs="+", type=Path)
    parser.add_argument("--seconds", type=float, default=30)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--best", help="CSV with the columns instance and cost")
    arguments = parser.parse_args()
    best = best_known(arguments.best) if arguments.best else {}
    gaps = []
    for file in arguments.files:
        name, problem = read(file.read_text())
        found = solve(problem, MaxRuntime(arguments.seconds), seed=arguments.seed, collect_stats=False, display=False)
        if not found.is_feasible():
            print(f"name={name} distance=- vehicles=- gap=-", flush=True)
            continue
        distance = found.best.distance() / 10
        gap = ""
        if name in best:
            gaps.append(distance / best[name] - 1)
            gap = f" gap={gaps[-1]:.2%}"
        print(f"name={name} distance={distance:.1f} vehicles={found.best.num_routes()}{gap}", flush=True)
    if gaps:
        print(f"instances={len(gaps)} seconds={arguments.seconds:g} seed={arguments.seed} mean_gap={sum(gaps) / len(gaps):.2%}")


def best_known(path):
    """Cost by instance."""
    with open(path) as file:
        return {row["instance"]: float(row["cost"]) for row in csv.DictReader(file)}


def read(text):
    """An instance's name and problem, in tenths."""
    lines = [line.split() for line in text.splitlines() if line.strip()]
    name = lines[0][0]
    numbers = [[float(word) for word in line] for line in lines if all(is_number(word) for word in line)]
    (vehicles, capacity), rows = numbers[0], numbers[1:]
    # Number, x, y, demand, ready, due, service.
    places = [(row[1], row[2]) for row in rows]
    distances = numpy.array([[math.floor(10 * math.dist(a, b)) for b in places] for a in places])
    tenths = lambda value: round(10 * value)
    depot = rows[0]
    opens, closes = tenths(depot[4]), tenths(depot[5])
    clients = [
        Client(
            index,
            delivery=[int(row[3])],
            service_duration=tenths(row[6]),
            tw_early=tenths(row[4]),
            tw_late=tenths(row[5]),
        )
        for index, row in enumerate(rows)
        if index > 0
    ]
    problem = ProblemData(
        locations=[Location(x, y) for x, y in places],
        clients=clients,
        depots=[Depot(0, tw_early=opens, tw_late=closes)],
        vehicle_types=[VehicleType(int(vehicles), [int(capacity)], tw_early=opens, tw_late=closes)],
        distance_matrices=[distances],
        duration_matrices=[distances],
    )
    return name, problem


def is_number(word):
    try:
        float(word)
    except ValueError:
        return False
    return True


if __name__ == "__main__":
    main()
