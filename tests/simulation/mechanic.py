"""The simulated mechanic: turns the crankshaft, watches stop and light, reads the disc, and writes the readings file.

The right ways: the disc is read at both contacts of a stop; an approach begins where the points have closed again and
goes with rotation to where they open; with an impulse coupling the crankshaft first goes forward through the snap, back
until the points have closed but not to the catch, and forward again. The wrong ways are the ones that mechanics know:
against rotation, within the play, with the snap, from too near or too far. Whatever is done, what was read is written.
"""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType

import tomli_w

from tests.simulation.engine import THOUSANDTH, Engine
from tests.simulation.job import SIDES, Job
from tests.simulation.paper import Table, head_of_card, magneto_table, place_said

Seen = Callable[[Engine], bool]
NO_FLAGS = MappingProxyType({"click_passed": False, "snapped": False})


class Mechanic:
    """Somebody at the engine, with a pencil; `slip` moves the disc just before the reading of that number (from 0)."""

    def __init__(self, job: Job, slip: tuple[int, Fraction] | None = None) -> None:
        self.job = job
        self.engine = job.engine
        self.slip = slip
        self.readings_taken = 0
        self.stops: list[Table] = []
        self.approaches: dict[str, list[Table]] = {side: [] for side in job.sheets}
        self.centre: str | None = None
        self.more: dict[str, Table] = {}

    # -- turning and reading ---------------------------------------------------------------------------------------

    def read(self) -> str:
        """What stands under the pointer now."""
        if self.slip is not None and self.readings_taken == self.slip[0]:
            self.move_disc(self.slip[1])
        self.readings_taken += 1
        return self.engine.reading

    def move_disc(self, by: Fraction) -> None:
        """Let the disc slip by so many disc degrees."""
        self.engine = replace(self.engine, disc=self.engine.disc.slipped(by))

    def turn_to(self, crank: Fraction) -> None:
        """Turn to about there, whichever way it is."""
        self.engine = self.engine.turned(crank - self.engine.crank)

    def turn_back_to(self, crank: Fraction) -> None:
        """Come to that place against rotation, so that the play lies on the other side."""
        if self.engine.crank <= crank:
            self.turn_to(crank + 30)
        self.turn_to(crank)

    def turn_slowly(self, way: int, until: Seen) -> None:
        """Turn, ever more slowly, to the first thousandth of a degree where it is seen."""
        for step in (Fraction(1), Fraction(1, 10), Fraction(1, 100), THOUSANDTH):
            for _ in range(400):
                further = self.engine.turned(way * step)
                if until(further):
                    break
                self.engine = further
            else:
                raise AssertionError("turned and turned, and nothing came")
        self.engine = further

    def lit(self, side: str) -> Seen:
        """Whether that magneto's light shows open points."""
        return lambda engine: engine.magnetos[side].points_open

    def dark(self, side: str) -> Seen:
        """Whether that magneto's light shows closed points."""
        return lambda engine: not engine.magnetos[side].points_open

    # -- top dead centre -------------------------------------------------------------------------------------------

    def feel_for_centre(self) -> None:
        """Read the disc where the piston seems to stand at the top of compression."""
        self.turn_to(self.job.feel)
        self.centre = self.read()

    def take_pair(self, *, after_zeroing: bool = False) -> None:
        """Fit the stop, touch it from both sides, read twice, take it out; the piston rests on the second contact."""
        self.turn_to(self.job.start)
        self.engine = self.engine.stop_fitted(self.job.depth)
        pair: Table = {}
        for way in ("with", "against") if self.job.with_first else ("against", "with"):
            self.engine = self.engine.turned(Fraction(500 if way == "with" else -500))
            pair[way] = self.read()
        self.engine = replace(self.engine, stop=None)
        self.stops.append({**pair, "after_zeroing": after_zeroing} if after_zeroing else pair)

    def set_disc(self, tdc: Table) -> None:
        """Set the disc, with the piston still on the second contact, to the line nearest to what the program says."""
        said = tdc["disc_setting_against" if self.job.with_first else "disc_setting_with"]
        self.engine = replace(self.engine, disc=self.engine.disc.set_to(place_said(said), self.engine.crank))

    # -- approaches ------------------------------------------------------------------------------------------------

    def closed_at(self, side: str) -> Fraction:
        """Where the points close again as the crankshaft is turned back: the opening and the play behind it."""
        magneto = self.engine.magnetos[side]
        return -magneto.true_btdc - magneto.play

    def short_of_catch(self, side: str) -> Fraction:
        """A place from which the coupling catches the rotor again when the crankshaft goes forward."""
        return self.closed_at(side) - (self.engine.magnetos[side].catch or 0) - 3

    def write(self, side: str, light: str, start: str, when: str, flags: dict[str, bool] | None = None) -> Table:
        """Write one approach down."""
        row: Table = {"from": start, "light": light}
        if when != "as left":
            row["when"] = when
        row.update({key: value for key, value in (flags or {}).items() if value != NO_FLAGS[key]})
        self.approaches[side].append(row)
        return row

    def read_back(self, side: str, row: Table) -> None:
        """Turn on against rotation till the light changes again, and write that down too."""
        self.turn_slowly(-1, self.dark(side))
        row["back"] = self.read()

    def approach(self, side: str, when: str = "as left", *, back: bool = True, beyond: Fraction | None = None) -> Table:
        """The right way with a plain drive: from before the closed points, with rotation, to where they open."""
        self.turn_back_to(self.closed_at(side) - (self.job.beyond if beyond is None else beyond))
        return self.go_on_to_light(side, when, back=back)

    def go_on_to_light(self, side: str, when: str, *, back: bool, flags: dict[str, bool] | None = None) -> Table:
        """From where the crankshaft stands, with rotation, to where the light comes on."""
        if self.engine.magnetos[side].points_open:
            raise AssertionError("the light is on before the approach begins")
        start = self.read()
        self.turn_slowly(1, self.lit(side))
        row = self.write(side, self.read(), start, when, flags)
        if back:
            self.read_back(side, row)
        return row

    def approach_from_compression(self, side: str, when: str = "as left") -> Table:
        """Straight up from the compression stroke over more than half a turn; the light is watched near the end."""
        self.turn_back_to(Fraction(-230))
        self.turn_to(self.closed_at(side) - self.job.beyond)
        self.turn_slowly(1, self.lit(side))
        return self.write(side, self.read(), "compression", when)

    def approach_past_the_click(self, side: str, when: str = "as left", *, back: bool = True) -> Table:
        """The right way with an impulse coupling: through the snap, back past closed points, short of the catch."""
        flags = {"click_passed": self.go_through_the_snap(side)}
        self.turn_slowly(-1, self.dark(side))
        self.turn_to(self.engine.crank - self.job.beyond)
        snaps = self.engine.magnetos[side].snaps
        row = self.go_on_to_light(side, when, back=False, flags=flags)
        if self.engine.magnetos[side].snaps > snaps:
            row["snapped"] = True
        if back:
            self.read_back(side, row)
        return row

    def go_through_the_snap(self, side: str) -> bool:
        """Come from well before the catch, forward, until the coupling clicks."""
        self.turn_back_to(self.short_of_catch(side))
        snaps = self.engine.magnetos[side].snaps
        self.turn_slowly(1, lambda engine: engine.magnetos[side].snaps > snaps)
        return True

    def approach_into_the_snap(self, side: str, *, passed_before: bool, back: bool = True) -> Table:
        """The wrong way with an impulse coupling: back beyond the catch; the points open late, with the snap."""
        if passed_before:
            self.go_through_the_snap(side)
        self.turn_back_to(self.short_of_catch(side))
        snaps = self.engine.magnetos[side].snaps
        row = self.go_on_to_light(side, "as left", back=False, flags={"click_passed": passed_before})
        if self.engine.magnetos[side].snaps > snaps:
            row["snapped"] = True
        if back:
            self.read_back(side, row)
        return row

    def approach_against_rotation(self, side: str, ahead: Fraction, when: str = "as left") -> Table:
        """The wrong way: from behind the opening, against rotation, to where the light changes."""
        magneto = self.engine.magnetos[side]
        self.turn_to(-magneto.true_btdc - 60)
        self.turn_to(-magneto.true_btdc + ahead)
        start = self.read()
        self.turn_slowly(-1, self.dark(side))
        return self.write(side, self.read(), start, when)

    def approach_within_the_play(self, side: str, backed: Fraction, forward: Fraction, *, back: bool = True) -> Table:
        """The wrong way: backed off less than the play; the light never went out, and it is read all the same."""
        self.approach(side, back=False)
        self.approaches[side].pop()
        self.turn_to(self.engine.crank - backed)
        start = self.read()
        self.turn_to(self.engine.crank + forward)
        if not self.engine.magnetos[side].points_open:
            raise AssertionError("backed off further than the play")
        row = self.write(side, self.read(), start, "as left")
        if back:
            self.read_back(side, row)
        return row

    # -- the bench -------------------------------------------------------------------------------------------------

    def turn_housing(self, side: str, by: Fraction, direction: str) -> None:
        """Turn the magneto's housing as somebody does who faces the end that the card names."""
        magneto = self.engine.magnetos[side].housing_turned(by, direction, self.job.sheets[side].seen_from)
        self.engine = self.engine.with_magneto(side, magneto)

    # -- paper -----------------------------------------------------------------------------------------------------

    def card(self) -> Table:
        """The readings file as tables."""
        card = head_of_card(self.job, self.centre)
        if self.stops:
            card["stop"] = self.stops
        if "magnetos" in self.more:
            card["magnetos"] = self.more["magnetos"]
        for side in SIDES:
            if side in self.job.sheets:
                table = magneto_table(self.job, side) | self.more.get(side, {})
                rows = self.approaches[side]
                card[side] = table | {"approach": rows} if rows else table
        return card

    def toml(self) -> str:
        """The readings file as text."""
        return tomli_w.dumps(self.card())
