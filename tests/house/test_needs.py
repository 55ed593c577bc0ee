"""What the tests need of the system is installed where that is allowed, else named before any test runs."""

from __future__ import annotations

from collections.abc import Sequence

import pytest

from house import needs
from house.say import Missing


class Shop:
    """A machine of the test's own: what is on it, and what its package manager was asked."""

    def __init__(self, delivers: bool = True) -> None:
        self.there: set[str] = set()
        self.asked: list[list[str]] = []
        self.delivers = delivers

    def need(self, name: str) -> needs.Need:
        packages = {"apt": f"{name}-deb", "dnf": f"{name}-rpm", "brew": name}
        return needs.Need(name, f"the {name} tests", lambda: name in self.there, packages)

    def run(self, command: Sequence[str]) -> int:
        self.asked.append(list(command))
        if self.delivers:
            self.there |= {part.removesuffix("-deb").removesuffix("-rpm") for part in command}
        return 0

    def ensure(self, *names: str, manager: str | None = "apt", rights: tuple[str, ...] | None = ()) -> None:
        table = [self.need(name) for name in names]
        needs.ensure(table, lambda: manager, lambda name: rights, self.run)


def test_what_is_there_is_left_alone() -> None:
    shop = Shop()
    shop.there = {"anvil"}
    shop.ensure("anvil")
    assert shop.asked == []


def test_root_installs_what_is_missing() -> None:
    shop = Shop()
    shop.there = {"anvil"}
    shop.ensure("anvil", "forge", "tongs")
    assert shop.asked == [
        ["apt-get", "update", "-q"],
        ["apt-get", "install", "-y", "--no-install-recommends", "forge-deb", "tongs-deb"],
    ]


def test_sudo_is_used_where_it_asks_no_password() -> None:
    shop = Shop()
    shop.ensure("forge", manager="dnf", rights=("sudo", "-n"))
    assert shop.asked == [["sudo", "-n", "dnf", "install", "-y", "forge-rpm"]]


def test_without_rights_it_stops_and_names_the_command() -> None:
    shop = Shop()
    with pytest.raises(Missing) as stop:
        shop.ensure("forge", "tongs", rights=None)
    assert shop.asked == []
    assert stop.value.what == "the tests need of this system: forge (the forge tests); tongs (the tongs tests)."
    assert stop.value.remedy == "run: sudo apt-get install -y --no-install-recommends forge-deb tongs-deb"


def test_without_a_known_manager_every_name_is_given() -> None:
    with pytest.raises(Missing) as stop:
        Shop().ensure("forge", manager=None)
    assert (
        stop.value.remedy
        == "install these by hand, packages are called: forge: apt forge-deb, dnf forge-rpm, brew forge"
    )


def test_a_package_that_does_not_help_stops_the_run() -> None:
    shop = Shop(delivers=False)
    with pytest.raises(Missing, match="forge"):
        shop.ensure("forge")
    assert len(shop.asked) == 2


def test_a_manager_without_that_package_stops_the_run() -> None:
    need = needs.Need("forge", "x", lambda: False, {"apt": "forge"})
    with pytest.raises(Missing, match="forge"):
        needs.ensure([need], lambda: "brew", lambda name: (), lambda command: 0)


def test_programs_are_looked_for_on_the_search_path() -> None:
    assert needs.on_path("no-such-program", "python3")() or needs.on_path("python")()
    assert not needs.on_path("no-such-program")()


def test_every_listed_need_is_complete() -> None:
    for need in needs.SYSTEM_NEEDS:
        assert need.name
        assert need.used_for
        assert set(need.packages) == set(needs.MANAGERS)
