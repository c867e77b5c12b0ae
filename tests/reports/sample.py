"""Sample papers with invented data: a timing card, blank and filled, with everything that papers are made of."""

from __future__ import annotations

from reports.document import (
    Beside,
    Caution,
    Checklist,
    Column,
    Document,
    Fact,
    Facts,
    Finding,
    Foot,
    Head,
    Heading,
    Initials,
    PageBreak,
    Paragraph,
    Picture,
    ReadingRow,
    ReadingTable,
    Result,
    Rule,
    Run,
    Seal,
    SignatureBox,
    Signatures,
    Step,
    Table,
    Tick,
    plain,
)
from reports.drawing import (
    Arc,
    Arrow,
    Circle,
    Drawing,
    HatchedBox,
    HatchedRing,
    Line,
    Polygon,
    Shape,
    Stroke,
    Words,
    on_circle,
)

WARNING = Caution(
    "warning",
    "Every propeller is live. A turned blade can start the engine and kill. Take off all plug leads and one plug from "
    "each cylinder. Set the switch to BOTH only for the last approach, and to OFF after every reading.",
)
CAUTION = Caution(
    "caution",
    "An approach against rotation hides the backlash. The timing would be wrong and the engine can be damaged.",
)
NOTE = Caution("note", "The coupling of another cylinder can snap too. A snap does not prove cylinder 1.")
GOVERNING = (
    "The data approved for the engine and the aircraft, the law of the place and the judgement of the licensed person "
    "govern; this sheet does not replace them."
)


def dial(*, filled: bool) -> Drawing:
    middle, radius = (104.0, 112.0), 82.0
    shapes: list[Shape] = [Circle(*middle, radius), Circle(*middle, 3.0, None, "ink")]
    for degrees in range(0, 360, 10):
        length = 8.0 if degrees % 30 == 0 else 4.5
        inner, outer = on_circle(*middle, radius - length, -degrees), on_circle(*middle, radius, -degrees)
        shapes.append(Line(*inner, *outer, Stroke("fine")))
        if degrees % 30 == 0 and degrees:
            x, y = on_circle(*middle, radius - 16.0, -degrees)
            shapes.append(Words(x, y + 3.0, str(degrees), 7.5, "middle", role="quiet"))
    top = on_circle(*middle, radius + 10.0, 0.0)
    shapes += [
        Line(middle[0], middle[1] - 14.0, *top, Stroke("medium")),
        Words(top[0], top[1] - 3.0, "TDC", 7.5, "middle", bold=True),
        Arrow(Arc(*middle, radius + 12.0, -14.0, -42.0, Stroke("thick")), 10.0),
        Words(34.0, 20.0, "with rotation", 7.5, "middle"),
    ]
    if filled:
        shapes += [
            HatchedRing(*middle, radius - 9.0, radius, 22.0, 2.0, 2.0),
            Line(*on_circle(*middle, 10.0, 23.5), *on_circle(*middle, radius - 2.0, 23.5), Stroke("thick")),
            Arrow(Arc(*middle, 54.0, 55.0, -30.0, Stroke("medium")), 7.0),
            Circle(*on_circle(*middle, 54.0, 55.0), 2.2, Stroke("medium")),
        ]
    return Drawing(208.0, 206.0, tuple(shapes), "the dial, as you face the propeller")


def scale() -> Drawing:
    def x(degrees: float) -> float:
        return 12.0 + (degrees - 20.0) * 36.0

    shapes: list[Shape] = [Line(x(20), 34.0, x(26), 34.0), HatchedBox(x(22), 24.0, x(24) - x(22), 10.0, 3.0)]
    for half in range(40, 53):
        degrees = half / 2.0
        shapes.append(Line(x(degrees), 34.0, x(degrees), 40.0 if half % 2 == 0 else 37.0, Stroke("fine")))
        if half % 2 == 0:
            shapes.append(Words(x(degrees), 50.0, f"{degrees:.0f}", 7.5, "middle"))
    shapes += [
        Line(x(23), 14.0, x(23), 34.0, Stroke("fine", dashed=True)),
        Words(x(23) - 3.0, 10.0, "23.0 nominal", 7.5, "middle"),
        Polygon(((x(23.5), 34.0), (x(23.5) - 4.5, 25.0), (x(23.5) + 4.5, 25.0)), None, "ink"),
        Words(x(23.5) + 7.0, 21.0, "23.5", 9.0, "start", bold=True),
        Line(x(23.5), 56.0, x(25.5), 56.0, Stroke("fine")),
        Line(x(23.5), 58.0, x(25.5), 58.0, Stroke("fine")),
        Words(x(24.5), 67.0, "backlash 2.0", 7.5, "middle"),
    ]
    return Drawing(240.0, 70.0, tuple(shapes), "the reading between its limits")


def readings(*, filled: bool) -> ReadingTable:
    rows = (
        ReadingRow("7.1", "Approach began at (disc)", "", "305", "°", "31.5° back, with rotation", "RV"),
        ReadingRow(
            "7.2",
            "Light came at (disc)",
            "337",
            "336.5",
            "°",
            "23.5° BTDC, 0.5° advanced",
            "RV",
            earlier=("335.0 setting, RV 14:31",),
        ),
        ReadingRow("7.3", "Light went at, turned back", "", "334.5", "°", "backlash 2.0°", "RV"),
        ReadingRow("7.4", "Feeler, contacts open", "0.40 ± 0.05", "0.385", "mm", "within", "RV"),
        ReadingRow(
            "7.5",
            "Snap passed before backing off",
            "",
            "yes",
            "",
            "coupling clicks at 3° BTDC",
            "RV",
            choices=("yes", "no", "no coupling"),
        ),
    )
    if filled:
        return ReadingTable(rows)
    return ReadingTable(
        tuple(ReadingRow(row.number, row.what, row.target, unit=row.unit, choices=row.choices) for row in rows)
    )


def timing_card(*, filled: bool) -> Document:
    initials = "RV" if filled else ""
    result = (
        Picture(scale(), 84.0, 24.5),
        Result(
            "Within: 23.5° BTDC",
            "closed",
            (
                plain("0.5° advanced; limits 22.0 to 24.0. Sure to ± 0.46°."),
                plain("Turn the housing clockwise, seen from the back, 0.8° (0.5 mm at the slot) to reach 23.0."),
            ),
        ),
        Finding(
            "ask",
            "Reason needed",
            "No closing pair of stop contacts, so the true TDC is not proved.",
            "rule T-104; limits sheet HM-6, section 5-20",
            "Disc re-checked against the flange mark. RV",
        ),
    )
    return Document(
        "Task card T4: time a magneto to the engine, order W-0417",
        "order W-0417, left engine, left magneto",
        "en-US",
        Head(
            "Task card T4: time a magneto to the engine",
            "card T4, order W-0417",
            (Paragraph((Run("order "), Run("W-0417", code=True))), plain("left engine, left magneto", quiet=True)),
            GOVERNING,
            "INVENTED DATA: DEMONSTRATION ONLY",
        ),
        Foot(
            "Pinyon Flat Aero Works (invented)",
            "card T4 rev 2, issued 14 Oct 2026",
            "printed 14 Oct 2026 15:02 MDT",
            (("file", "3f9c"), ("record", "412"), ("head", "9a41c07be2d85516")),
        ),
        (
            Facts(
                (
                    Fact("aircraft", "N-XX04, Tarn 210, no. 31"),
                    Fact("engine", "Harl 6-300, no. 0118"),
                    Fact("magneto", "Corrin M6L, no. 7741, left-hand"),
                    Fact("limits", "23.0° BTDC, 1.0° either way"),
                    Fact("transcribed from", "HM-6 maintenance, 5-20, rev 9"),
                    Fact("revision current on", "14 Oct 2026, L. Ode" if filled else None),
                    Fact("measured by", "disc D-2, read to 0.5°" if filled else None),
                    Fact("firing order", "1-4-5-2-3-6"),
                )
            ),
            Rule(),
            Step(
                "5",
                "Remove the plug leads and one plug from each cylinder.",
                (WARNING,),
                (
                    Checklist(
                        (
                            Tick(
                                "Plug leads off, their ends secured away from plug holes",
                                "ticked" if filled else "empty",
                                initials,
                            ),
                            Tick(
                                "One plug out of each cylinder, six plugs counted",
                                "ticked" if filled else "empty",
                                initials,
                            ),
                            Tick(
                                "Fuel pump breaker pulled (not fitted on this aircraft)",
                                "struck" if filled else "empty",
                                initials,
                            ),
                        )
                    ),
                ),
            ),
            Step(
                "6",
                "Set the switch to OFF and prove with the lamp that each side is grounded.",
                (WARNING, NOTE),
                initials=(Initials("mechanic", initials), Initials("inspector", "LO" if filled else "")),
                remark="The inspector must see this.",
            ),
            Step(
                "7",
                "Turn the propeller with rotation until the light shows the points opening.",
                (WARNING, CAUTION, NOTE),
                (readings(filled=filled),),
            ),
            *(
                (Beside(Picture(dial(filled=True), 66.0, 65.4, "as you face the propeller"), result),)
                if filled
                else (Picture(dial(filled=False), 66.0, 65.4, "as you face the propeller"),)
            ),
            Heading("Findings", 1),
            Finding(
                "stop",
                "Stops",
                "The disc was moved between the stop contacts and the reading: measure again.",
                "rule T-110",
            ),
            Finding("note", "Note", "The magneto has run 412 of its 500 hours between inspections."),
            Result("Not measured: 7.2", "crossed", (plain("The light was approached against rotation."),)),
            Result("Reason needed: 7.4", "half", (plain("No closing pair of stop contacts."),)),
            Heading("Parts off and on", 2),
            Table(
                (
                    Column("part", 2.0),
                    Column("serial or batch", 1.5),
                    Column("quantity", 0.8, numbers=True),
                    Column("paper", 1.5),
                ),
                (
                    ("Gasket, magneto flange", "batch 88-12", "1", "release note 5521"),
                    ("Safety wire", "reel 4", "0.75 m", "stores"),
                    ("Clamp nut", "lot 7", "12", None),
                ),
            ),
            Signatures(
                (
                    SignatureBox(
                        "Mechanic",
                        "I did the work above as described.",
                        "" if not filled else "R. Vance",
                        "Rhea Vance" if filled else "",
                        "3120077 mechanic, powerplant" if filled else "",
                        "14 Oct 2026" if filled else "",
                        "7KQ4-M2ZD",
                    ),
                    SignatureBox("Inspector", "I inspected the work above and accept it.", code="7KQ4-M2ZD"),
                    SignatureBox(
                        "Approved for return to service", "With respect to the work performed only.", code="7KQ4-M2ZD"
                    ),
                )
            ),
            Seal(
                "sparkwright:3f9c:412:9a41c07be2d85516:7KQ4M2ZD",
                (
                    Paragraph((Run("check code "), Run("7KQ4-M2ZD", code=True))),
                    plain("A signed paper belongs to the file whose seal it carries.", quiet=True),
                ),
            ),
            PageBreak(),
            plain("Last page."),
        ),
    )
