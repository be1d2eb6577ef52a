"""A small made key, as an author would write it: three species, five guises, four characters.

`write_key(folder)` writes it; `write_key(folder, files)` writes the given files over it, by their path in the key.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

KEY = """\
format: 1
id: made-pond
title: Made insects of a made pond
version: 0.1.0
scope: Three insects that nobody ever saw.
licence: CC0-1.0
classification: {kingdom: Animalia, phylum: Arthropoda, class: Insecta, order: Fictoptera, title: made fly}
suborders:
  - {name: Tenuiptera, title: slim fly}
families:
  - {name: Exemplidae, suborder: Tenuiptera, title: example fly}
  - {name: Paludulidae, suborder: Tenuiptera, title: marsh fly}
groups:
  - {id: first-or-second, title: First or Second Example, rank: pair, members: [Exemplum primum, Exemplum alterum]}
abundance: {common: 0.5, scarce: 0.02, absent: 0.00002}
regions:
  - {id: lowland, title: the Lowland}
  - {id: upland, title: the Upland}
squares:
  SU: [lowland]
  NN: [upland, lowland]
habitats:
  - {id: pond, title: pond, words: [pool]}
  - {id: stream, title: stream}
undescribed:
  - name: Exemplum absens
    english: Missing Example
    group: Exemplum
    abundance: {lowland: scarce}
    flight: {first: early-june, peak: [mid-june, late-june], last: mid-july}
sources:
  - {id: memory, title: stated from memory}
  - {id: practice, title: common practice}
  - {id: plate, title: "The made plates", year: 1901}
"""

CHARACTERS = """\
format: 1
source: practice
characters:
  - id: wings-at-rest
    title: Wings at rest
    question: How are the wings held?
    help: Watch it settle twice.
    part: first look
    effort: glance
    aliases: [wings]
    beginner: {missed: 0.1, invented: 0.1}
    practised: {missed: 0.05, invented: 0.05}
    states:
      - {id: closed, title: closed along the back, words: [shut]}
      - {id: half-open, title: half open}
      - {id: flat, title: spread flat, words: [spread]}
  - id: spur
    title: Spur on the side
    question: Is there a black spur?
    help: On the side, below the front wing.
    part: thorax
    effort: close
    beginner: {missed: 0.3, invented: 0.05}
    practised: {missed: 0.1, invented: 0.02}
    states:
      - {id: absent, title: no spur, absent: true}
      - {id: present, title: a short black spur}
  - id: tail-colour
    title: Tail colour
    question: What colour is the tail?
    help: The last three segments.
    part: abdomen
    effort: look
    applies: {groups: [Exemplum], sexes: [male]}
    beginner: {missed: 0.1, invented: 0.1}
    practised: {missed: 0.05, invented: 0.05}
    states:
      - {id: blue, title: all blue}
      - {id: black, title: all black}
  - id: length
    title: Length
    kind: number
    unit: mm
    range: [20, 60]
    question: How long is it?
    help: Nearly everybody guesses too long.
    part: first look
    effort: look
    by_eye: {beginner: {half_width: 0.25, bias: 0.08}, practised: {half_width: 0.15, bias: 0.02}}
"""

EXEMPLUM = """\
format: 1
genus: Exemplum
family: Exemplidae
title: example fly
source: memory
species:
  - name: Exemplum primum
    authority: (Marsh, 1901)
    english: First Example
    aliases: [Common Example]
    synonyms: [Vetus primum]
    status: resident
    abundance: {lowland: common, upland: scarce}
    flight: {first: mid-may, peak: [early-june, late-july], last: early-september}
    habitats: {pond: main, stream: also}
    hindwing: [16, 22]
    traits:
      wings-at-rest: closed
      spur: present
      length: {is: [33, 37], source: plate}
    guises:
      - {id: male, title: male, sex: male, age: mature, share: 0.6, evidence: sight, traits: {tail-colour: blue}}
      - {id: female, title: female, sex: female, age: mature, share: 0.4, evidence: photo}
    lookalikes:
      - species: Exemplum alterum
        mark: the spur, which Second Example lacks
        decided_by: {spur: present}
        unseen: First or Second Example
  - name: Exemplum alterum
    authority: Marsh, 1901
    english: Second Example
    status: resident
    abundance: {lowland: common}
    flight: {first: early-june, peak: [mid-june, mid-july], last: early-august}
    habitats: {pond: main}
    traits:
      wings-at-rest: {closed: 0.9, half-open: 0.1}
      spur: absent
      length: {mean: 40, sd: 1}
    guises:
      - id: male
        title: male
        sex: male
        age: mature
        share: 0.5
        evidence: sight
        traits: {tail-colour: [blue, black]}
      - {id: female, title: female, sex: female, age: mature, share: 0.5, evidence: photo}
    lookalikes:
      - {species: Exemplum primum, mark: "no spur, which First Example has", decided_by: {spur: absent}}
"""

PALUDULA = """\
format: 1
genus: Paludula
family: Paludulidae
title: marsh fly
source: practice
species:
  - name: Paludula lata
    authority: Marsh, 1901
    english: Broad Marsh Fly
    status: resident
    abundance: {upland: common}
    flight: {first: late-june, peak: [mid-july, early-august], last: mid-september}
    habitats: {stream: main}
    traits:
      wings-at-rest: flat
      spur: not-applicable
      length: [48, 56]
    guises:
      - {id: any, title: either sex, age: mature, share: 1, evidence: sight}
"""

FILES: Mapping[str, str] = {
    "key.yaml": KEY,
    "characters.yaml": CHARACTERS,
    "species/exemplum.yaml": EXEMPLUM,
    "species/paludula.yaml": PALUDULA,
}


def write_key(folder: Path, files: Mapping[str, str | bytes | None] | None = None) -> Path:
    """Write the made key into `folder`, with `files` in place of its own; None leaves a file out."""
    folder.mkdir(parents=True, exist_ok=True)
    for name, content in {**FILES, **(files or {})}.items():
        if content is None:
            continue
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content.encode() if isinstance(content, str) else content)
    return folder
