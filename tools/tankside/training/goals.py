"""How far somebody is to come with each procedure, as the paths of their roles say."""

from collections.abc import Collection, Mapping

from tankside.model.training import ALONE, METHODS, Training


def goals(training: Training, roles: Collection[str]) -> Mapping[str, str]:
    """Return the furthest method that the paths of some roles lead to, by procedure, in their order."""
    found: dict[str, str] = {}
    for path in training.paths.values():
        for item in path.items if str(path.role) in roles else ():
            if item.learn is not None and item.to is not None:
                name = str(item.learn)
                found[name] = max(found.get(name, METHODS[0]), str(item.to), key=METHODS.index)
    return found


def goal(training: Training, roles: Collection[str], procedure: str) -> str:
    """Return how far it is with one procedure; alone, where no path says anything."""
    return goals(training, roles).get(procedure, ALONE)
