"""Check exported records as format.txt beside it says: python verify_records.py [FOLDER [SEAL]]."""  # noqa: INP001

import base64
import json
import re
import sys
from datetime import date, datetime
from functools import partial
from hashlib import sha256, sha512
from pathlib import Path
from typing import Any
from unicodedata import is_normalized

P, L = 2**255 - 19, 2**252 + 27742317777372353535851937790883648493
D = -121665 * pow(121666, P - 2, P) % P
# RFC 8032, section 7.1, TEST 2 and TEST 3: public key, message and signature of each.
VECTORS = """3d4017c3e843895a92b70aa74d1b7ebc9c982ccf2ec4968cc0cd55f12af4660c 72 92a009a9f0d4cab8720e820b5f642540a2b2
7b5416503f8fb3762223ebdb69da085ac1e43e15996e458f3613d0f11d8c387b2eaeb4302aeeb00d291612bb0c00 fc51cd8e6218a1a38da47ed00
230f0580816ed13ba3303ac5deb911548908025 af82 6291d657deec24024827e69c3abe01a30ce548a284743a445e3680d7db5ac3ac18ff9b538
d16f290ae67f760984dc6594a7c15e9716ed28dc027beceea1ec40a""".replace("\n", "")
AT = "[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}[-+][0-9]{2}:[0-9]{2}"
TEXT, MAYBE, LABEL, HEX = ".{1,16000}", ".{0,16000}", "(?!.*: ).{1,16000}", "[0-9a-f]{64}"
SIGNER: dict[str, Any] = {"rights": [TEXT], "meaning": TEXT, "name": TEXT, "person": TEXT}
SIGNER |= {"certificate_kind": MAYBE, "certificate_number": MAYBE}
BODY: dict[str, Any] = {"at": AT, "kind": TEXT, "shop_id": TEXT, "shop_name": TEXT, "subject": TEXT, "signer": SIGNER}
BODY |= {"sections": [{"rows": [{"label": LABEL, "text": TEXT}], "title": LABEL}], "countersigners": [SIGNER]}
BODY |= {"about": [{"digest": HEX, "number": 1}], "keys": [{"person": TEXT, "public_key_hex": HEX}]}
LINE: dict[str, Any] = {"content": str, "digest": HEX, "kind": str, "number": 1, "previous": HEX, "record": BODY}
LINE["signatures"] = [{"meaning": str, "person": str, "public_key": HEX, "signature": "[0-9a-f]{128}"}]
SHOP = {"count": 0, "form": 1, "head": "[0-9a-f]*", "order": 0, "shop_id": TEXT}
DESK, KEEPER = "front desk", "records keeper"
ANY = MECHANIC, INSPECTOR, APPROVER, _ = "mechanic", "inspector", "authorised person", KEEPER
ENROLLED, WITHDRAWN, REPLACED = PEOPLE = "person enrolled", "person withdrawn", "key replaced"
CARD = "card submitted", "card accepted", "card returned"
ENDS = "approved for return to service", "not approved", "void"
WHO = {"limits sheet": ANY, CARD[0]: (MECHANIC,), CARD[1]: (INSPECTOR,), CARD[2]: (INSPECTOR,), "correction": ANY}
WHO |= {ENDS[0]: (APPROVER,), ENDS[1]: (APPROVER,), ENDS[2]: (DESK, KEEPER)}
WHO |= dict.fromkeys((*PEOPLE, "tool record", "restore"), (KEEPER,))
ANSWERS = {CARD[1]: CARD[:1], CARD[2]: CARD[:1], ENDS[0]: CARD[1:2], "correction": tuple(WHO)}
ORDER = re.compile("order ([1-9][0-9]{0,17})(?: card ([1-9][0-9]{0,17}))?")
NAMES = "person", "name", "certificate_number", "certificate_kind"
SOME = "".join(f"(?:{name}: (.+)\n)?" for name in ("Initials", "Name", "Certificate number", "Certificate kind"))
SOME += f"(?:Ratings: .+\n)?(?:Supervisor: .+\n)?((?:Right: (?:{DESK}|{'|'.join(ANY)}|helper)\n)*)"
PERSON = re.compile(f"{SOME}With the shop since: ([-0-9]{{10}})\n(?:With the shop until: ([-0-9]{{10}})\n)?")
written = partial(json.dumps, sort_keys=True, ensure_ascii=False, separators=(",", ":"))

def add(one: tuple[int, ...], two: tuple[int, ...]) -> tuple[int, ...]:  # two points (RFC 8032, section 5.1.4)
    a, b = (one[1] - one[0]) * (two[1] - two[0]) % P, (one[1] + one[0]) * (two[1] + two[0]) % P
    c, d = 2 * one[3] * two[3] * D % P, 2 * one[2] * two[2] % P
    return (b - a) * (d - c) % P, (d + c) * (b + a) % P, (d - c) * (d + c) % P, (b - a) * (b + a) % P

def times(number: int, point: tuple[int, ...]) -> tuple[int, ...]:  # a point added to itself so many times
    rest = times(number // 2, add(point, point)) if number > 1 else (0, 1, 1, 0)
    return add(rest, point) if number % 2 else rest

def point_of(y: int, sign: int) -> tuple[int, ...] | None:  # RFC 8032, section 5.1.3; None for none
    square = (y * y - 1) * pow(D * y * y + 1, P - 2, P) % P
    x = pow(square, (P + 3) // 8, P)
    x = x if x * x % P == square else x * pow(2, (P - 1) // 4, P) % P
    x = x if x % 2 == sign else P - x
    return (x, y, 1, x * y % P) if y < P and x < P and x * x % P == square else None

def verifies(key: bytes, message: bytes, signature: bytes, /) -> bool:  # RFC 8032, section 5.1.7
    number, s = int.from_bytes(key, "little"), int.from_bytes(signature[32:], "little")
    base, point = point_of(4 * pow(5, P - 2, P) % P, 0), point_of(number % 2**255, number >> 255)
    if base is None or point is None or s >= L or not times(8, point)[0]:  # of small order: it would fit every message
        return False
    k = int.from_bytes(sha512(signature[:32] + key + message).digest(), "little") % L
    x, y, z, _ = add(times(s, base), times(k, (P - point[0], point[1], 1, P - point[3])))
    x, y = x * pow(z, P - 2, P) % P, y * pow(z, P - 2, P) % P
    return (y | x % 2 << 255).to_bytes(32, "little") == signature[:32]

def frame(*parts: str | bytes) -> bytes:  # parts with their lengths before them
    return b"".join(b"%d:%b," % (len(one), one) for one in (x.encode() if isinstance(x, str) else x for x in parts))

def fits(value: Any, shape: Any) -> bool:  # noqa: ANN401 - anything that stands in JSON
    """Tell whether JSON has a form: tables by their keys, lists by entries, numbers by the least, text by a pattern."""
    if isinstance(shape, dict):
        return isinstance(value, dict) and value.keys() == shape.keys() and all(fits(value[k], shape[k]) for k in shape)
    if isinstance(shape, list):
        return isinstance(value, list) and all(fits(one, shape[0]) for one in value)
    if not isinstance(shape, str):
        return isinstance(value, str) if shape is str else type(value) is int and value >= shape
    is_seen = isinstance(value, str) and value.isprintable() and value == value.strip() and is_normalized("NFC", value)
    return is_seen and re.fullmatch(shape, value) is not None

def content_of(line: Any, raw: bytes) -> bytes:  # noqa: ANN401 - the same
    """Return the content that a line says; ValueError for a line and a content that are not in the one form."""
    if not fits(line, LINE) or written(line).encode() + b"\n" != raw or line["record"]["kind"] not in WHO:
        raise ValueError
    body, content = line["record"], frame("sparkwright record 1", line["record"]["kind"], written(line["record"]))
    people = {one["person"] for one in (body["signer"], *body["countersigners"])}
    is_odd = len(people) <= len(body["countersigners"]) or datetime.fromisoformat(body["at"]).isoformat() != body["at"]
    if is_odd or len(content) > 10**6 or base64.b64encode(content).decode() != line["content"]:
        raise ValueError
    return content

def person_in(body: dict[str, Any]) -> dict[str, Any] | None:  # whom it describes; ValueError for a day that is none
    rows: list[Any] = next((one["rows"] for one in body["sections"] if one["title"] == "Person"), [])
    found = PERSON.fullmatch("".join(f"{row['label']}: {row['text']}\n" for row in rows))
    if body["kind"] not in PEOPLE or found is None:
        return None
    *texts, rights, since, until = found.groups("")
    days = date.fromisoformat(since), date.fromisoformat(until or "9999-12-31")
    return {**dict(zip(NAMES, texts, strict=True)), "rights": re.findall("Right: (.+)\n", rights), "days": days}

class Walk:
    """One walk over the records; ``people`` are as the records so far say them, each with the key that counts."""

    def __init__(self, shop: dict[str, Any]) -> None:
        self.shop, self.last, self.count = shop, 0, 0
        self.heads = [sha256(frame("sparkwright shop 1", shop["shop_id"])).hexdigest()]
        self.problems, self.notes = list[str](), list[str]()
        self.seen, self.people, self.keys = dict[int, Any](), dict[str, Any](), set[str]()
        self.cards, self.ends = dict[str, dict[str, Any]](), set[str]()

    def take(self, raw: bytes) -> None:  # the next line
        self.count, name, expected = self.count + 1, f"Line {self.count + 1}", self.last + 1
        try:
            line = json.loads(raw)
            name = f"Record {line['number']!r}"
            self.last = max(self.last, line["number"])
            self.heads.append(str(line["digest"]))
            content, person, body = content_of(line, raw), person_in(line["record"]), line["record"]
        except (ValueError, TypeError, KeyError, RecursionError):
            self.problems.append(f"{name} cannot be read: what stands there is not what was signed.")
            return
        name += f", {body['kind']}, {body['subject']}, signed {body['signer']['name']}"
        self.day = datetime.fromisoformat(body["at"]).date()
        self.here = [x for x in self.people.values() if x["key"] and x["days"][0] <= self.day <= x["days"][1]]
        checks = [*self.place(name, line, content, expected), *self.signatures(line, content, person)]
        checks += [*self.order(line["number"], body), *self.enrol(body, person)]
        self.problems += [f"{name}, {words}." for is_so, words in checks if is_so]

    def place(self, name: str, line: dict[str, Any], content: bytes, expected: int) -> list[Any]:  # place and seal
        number, previous, body, checks = line["number"], line["previous"], line["record"], list[Any]()
        found, wanted, is_part = ORDER.fullmatch(body["subject"]), ANSWERS.get(body["kind"], ()), self.shop["order"]
        own, answered, same = found.groups() if found else (), not wanted, 2 if body["kind"] in CARD else 1
        is_apart = bool(is_part) and number > expected
        self.notes += [f"Note: {name}, follows record {number - 1}, which is not here: seal {previous}."] * is_apart
        for one in body["about"]:
            digest, kind, place = self.seen.get(one["number"], ("", "", ()))
            is_away, is_named = bool(is_part and not digest and one["number"] < number), digest == one["digest"]
            self.notes += [f"Note: {name}, names record {one['number']}, which is not here."] * is_away
            answered = answered or is_away or (is_named and kind in wanted and place[:same] == own[:same])
            checks.append((not is_named and not is_away, f"names record {one['number']} by a seal that it has not"))
        self.seen[number] = line["digest"], body["kind"], own
        given = [one[key] for one in line["signatures"] for key in ("person", "public_key", "signature", "meaning")]
        sealed = sha256(frame("sparkwright envelope 1", str(number), line["kind"], content, previous, *given))
        return [
            *checks,
            (number != expected and not is_apart, "stands where it does not belong, or records before it are missing"),
            (number == expected and previous != self.heads[-2], "does not follow the record before it"),
            (sealed.hexdigest() != line["digest"], "does not fit its record seal: it was changed after it was signed"),
            (line["kind"] != body["kind"] or body["shop_id"] != self.shop["shop_id"], "was signed as another"),
            (not answered, f"answers no record of the kind that it must: {' or '.join(wanted[:2])}"),
        ]

    def signatures(self, line: dict[str, Any], content: bytes, described: dict[str, Any] | None) -> list[Any]:
        """Check who signed, with which key and right."""
        body, kind, checks = line["record"], line["record"]["kind"], list[Any]()
        signers, may = [body["signer"], *body["countersigners"]], set[str]()
        if [(x["person"], x["meaning"]) for x in signers] != [(x["person"], x["meaning"]) for x in line["signatures"]]:
            return [(True, "is not signed by the people whom it names")]
        for one, signer in zip(line["signatures"], signers, strict=True):
            who, key, name = one["person"], one["public_key"], signer["name"]
            before, own = self.people.get(who), kind in PEOPLE and body["subject"] == f"person {who}"
            known = before if before and before["key"] == key else None
            if known and (signer is signers[0] or kind in PEOPLE):
                may |= {who for right in known["rights"] if right in WHO[kind]}
            if not known and own and {"person": who, "public_key_hex": key} in body["keys"]:
                known = described or before
            is_other = known and any(known[part] != signer[part] for part in (*NAMES, "rights"))
            is_gone = known and not known["days"][0] <= self.day <= known["days"][1]
            parts = (kind, str(line["number"]), line["previous"], sha256(content).hexdigest(), self.shop["shop_id"])
            message = frame("sparkwright signature 1", *parts, who, key, one["meaning"])
            is_signed = verifies(bytes.fromhex(key), message, bytes.fromhex(one["signature"]))
            checks += [
                (not known, f"is signed with a key that was not enrolled for {name}, or had ended"),
                (is_other, f"says another name, certificate or rights of {who} than they were enrolled with"),
                (is_gone, f"is signed by {name}, who was not with the shop on that day"),
                (not is_signed, f"does not bear the signature of {name}: it is not what was signed"),
            ]
        if line["number"] == 1 and kind == ENROLLED:
            may = {signers[0]["person"]} & {x["person"] for x in [described] if x and KEEPER in x["rights"]}
        others = [x for x in self.here if KEEPER in x["rights"] and x["person"] not in may]
        is_alone = kind == REPLACED and may == {body["subject"].removeprefix("person ")} and others
        checks.append((is_alone, "is countersigned by no records keeper"))
        return [*checks, (not may, f"is signed by nobody who had the right of {' or '.join(WHO[kind])} at that time")]

    def order(self, number: int, body: dict[str, Any]) -> list[Any]:  # the last word; nobody inspects their own work
        kind, found, who = body["kind"], ORDER.fullmatch(body["subject"]), body["signer"]["person"]
        if not found or kind not in CARD + ENDS:
            return []
        cards, about = self.cards.setdefault(found[1], {}), {one["number"] for one in body["about"]}
        last, before, whose = cards.get(found[2], (0, "", ""))
        odd = [one for one in cards.values() if one[1] != CARD[1] or one[0] not in about] if kind == ENDS[0] else []
        is_late = found[1] in self.ends or (kind == CARD[0] and before in CARD[:2])
        is_late |= kind in CARD[1:] and not {0, *about} & {last}
        is_own = self.here[1:] or all(one["title"] != "Reason" for one in body["sections"])
        self.ends |= {found[1]} if kind in ENDS else set()
        cards |= {found[2]: (number, kind, who)} if kind in CARD else {}
        own = (kind == CARD[1] and whose == who and is_own, "accepts what its signer had submitted")
        return [(odd or is_late, "does not answer the last word on its order"), own]

    def enrol(self, body: dict[str, Any], described: dict[str, Any] | None) -> list[Any]:  # what is said of a person
        kind, named = body["kind"], body["subject"].removeprefix("person ")
        keys = [one["public_key_hex"] for one in body["keys"] if one["person"] == named]
        before, person = self.people.get(named), described or (self.people.get(named) if kind == REPLACED else None)
        if kind not in PEOPLE or not person or f"person {person['person']}" != body["subject"]:
            return [(kind in PEOPLE or body["keys"], "brings a key, or says something of a person, and not whole")]
        kept = before["key"] if kind == ENROLLED and before else ""
        wrong = len(keys) < len(body["keys"]) or len(keys) > 1 or not self.keys.isdisjoint(keys)
        wrong = wrong or bool(kept and keys) or (kind != ENROLLED and (not before or bool(keys) == (kind == WITHDRAWN)))
        self.people[named] = {**person, "key": keys[0] if keys else kept}
        self.keys.update(keys)
        left = [x for x in self.here if KEEPER in x["rights"] and x["person"] != named]
        wrong = wrong or (kind == WITHDRAWN and not left)
        return [(wrong, "does not fit what the records before it say of the person, or of whose a key is")]

def main(folder: Path, paper: str = "") -> int:  # checks a folder, returns the exit status
    vectors = [bytes.fromhex(part) for part in VECTORS.split(" ")]
    try:
        shop = json.loads((folder / "shop.json").read_bytes())
        as_published = verifies(*vectors[:3]) and verifies(*vectors[3:]) and not verifies(*vectors[3:5] + vectors[2:3])
        if not as_published or not fits(shop, SHOP) or shop["form"] != 1:
            raise ValueError("shop.json is not in form 1, or this Python computes wrongly")  # noqa: TRY301
        walk = Walk(shop)
        with (folder / "records.jsonl").open("rb") as file:
            for raw in iter(partial(file.readline, 10**7), b""):
                walk.take(raw)
        listed = dict(line.split("  ", 1)[::-1] for line in (folder / "SHA256SUMS").read_text("utf-8").splitlines())
    except (OSError, ValueError) as trouble:
        print(f"Nothing was checked: {trouble}.")  # noqa: T201 - a command line prints
        return 2
    files = [place for place in folder.rglob("*") if place.is_file() and place.name[0] != "."]
    found = {place.relative_to(folder).as_posix(): sha256(place.read_bytes()).hexdigest() for place in files}
    names = sorted({*found, *listed, "records.jsonl", "shop.json"} - {"SHA256SUMS"})
    odd = [name for name in names if name not in listed or found.get(name) != listed[name]]
    walk.problems += [f"{name!r} is not as it was exported, or no part of the export." for name in odd]
    if not shop["order"] and (walk.count, walk.heads[-1]) != (shop["count"], shop["head"]):
        walk.problems.append(f"The shop holds {shop['count']} records, and here are {walk.count}, or others.")
    if not any(head.startswith(paper) for head in walk.heads):
        walk.problems.append(f"The record seal {paper} of the paper belongs to no record here.")
    print(*walk.problems, *walk.notes, f"{walk.count} record(s): {'not ' if walk.problems else ''}sound.", sep="\n")  # noqa: T201 - the same
    return 1 if walk.problems else 0

if __name__ == "__main__":
    sys.stdout.reconfigure(errors="backslashreplace")  # type: ignore[union-attr] # a file, here
    sys.exit(main(Path(sys.argv[1]) if sys.argv[1:] else Path(__file__).parent, *sys.argv[2:3]))
