"""Routes of a plain site by OR-Tools, to hold against evenrun's own: the highest share is to be low.

    python3 ortools_routes.py DUMP.json ROUTES.json --seconds 30

DUMP.json comes from `cargo bench --bench site -- --plain --dump DUMP.json`; ROUTES.json goes to `--evaluate`, which checks and measures.
Needs PyPI's package ortools, in an environment of its own; the project does not depend on it.

The model: a room is a node with its window; a worker is a vehicle with a shift. Time is one dimension, in which waiting is free.
Load (set-up, work, walking, tear-down; waiting is none) is another, for each worker in hundredths of a per cent of available time, so that
its end is the worker's share. A global span coefficient on it lowers the highest share, as is customary; each arc costs its
walking, so that walking decides among equals. First solution by parallel cheapest insertion, then guided local search. One thread:
the routing solver has no more.
"""

import argparse
import json

from ortools.constraint_solver import pywrapcp, routing_enums_pb2

# A share of 1 as a load.
WHOLE = 10_000


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("dump")
    parser.add_argument("routes")
    parser.add_argument("--seconds", type=int, default=30)
    parser.add_argument("--span", type=int, default=10, help="global span coefficient")
    arguments = parser.parse_args()
    with open(arguments.dump) as file:
        site = json.load(file)
    routes = solve(site, arguments.seconds, arguments.span)
    highest = max(share(site, worker, route) for worker, route in enumerate(routes))
    with open(arguments.routes, "w") as file:
        json.dump({"routes": routes}, file)
    print(f"solver=ortools seconds={arguments.seconds} span={arguments.span} highest={highest:.3%}")


def load(site, route):
    """Seconds in which the worker of a route is busy."""
    travel, service, base = site["travel"], site["service"], len(site["service"])
    if not route:
        return 0
    places = [base, *route, base]
    walking = sum(travel[a][b] for a, b in zip(places, places[1:]))
    return site["set_up"] + walking + sum(service[room] for room in route) + site["tear_down"]


def share(site, worker, route):
    return load(site, route) / site["workers"][worker]["available"]


def solve(site, seconds, span):
    travel, service, windows = site["travel"], site["service"], site["windows"]
    workers = site["workers"]
    base = len(service)
    manager = pywrapcp.RoutingIndexManager(base + 1, len(workers), base)
    routing = pywrapcp.RoutingModel(manager)

    def spent(before, after):
        """From the start of work at one place to the start at the next."""
        a, b = manager.IndexToNode(before), manager.IndexToNode(after)
        work = site["set_up"] if a == base else service[a]
        return work + travel[a][b] + (site["tear_down"] if b == base else 0)

    def walked(before, after):
        return travel[manager.IndexToNode(before)][manager.IndexToNode(after)]

    time = routing.RegisterTransitCallback(spent)
    day = max(worker["to"] for worker in workers)
    routing.AddDimension(time, day, day, False, "time")
    clock = routing.GetDimensionOrDie("time")

    def shares_of(worker):
        available = worker["available"]
        return lambda before, after: -(-spent(before, after) * WHOLE // available)

    loads = [routing.RegisterTransitCallback(shares_of(worker)) for worker in workers]
    routing.AddDimensionWithVehicleTransits(loads, 0, 2 * WHOLE, True, "load")
    routing.GetDimensionOrDie("load").SetGlobalSpanCostCoefficient(span)
    routing.SetArcCostEvaluatorOfAllVehicles(routing.RegisterTransitCallback(walked))

    for room, (opens, closes) in enumerate(windows):
        clock.CumulVar(manager.NodeToIndex(room)).SetRange(max(opens, 0), min(closes, day) - service[room])
    for vehicle, worker in enumerate(workers):
        clock.CumulVar(routing.Start(vehicle)).SetRange(worker["from"], worker["to"])
        clock.CumulVar(routing.End(vehicle)).SetRange(worker["from"], worker["to"])

    parameters = pywrapcp.DefaultRoutingSearchParameters()
    parameters.first_solution_strategy = routing_enums_pb2.FirstSolutionStrategy.PARALLEL_CHEAPEST_INSERTION
    parameters.local_search_metaheuristic = routing_enums_pb2.LocalSearchMetaheuristic.GUIDED_LOCAL_SEARCH
    parameters.time_limit.FromSeconds(seconds)
    solution = routing.SolveWithParameters(parameters)
    if solution is None:
        raise SystemExit("error: OR-Tools found no routes")

    def route(vehicle):
        index, rooms = solution.Value(routing.NextVar(routing.Start(vehicle))), []
        while not routing.IsEnd(index):
            rooms.append(manager.IndexToNode(index))
            index = solution.Value(routing.NextVar(index))
        return rooms

    return [route(vehicle) for vehicle in range(len(workers))]


if __name__ == "__main__":
    main()
