"""Eleven looks as people have them by a pond, with what each is."""

from __future__ import annotations

MID_JULY, EARLY_NOVEMBER = 19, 30

DAMSELFLY = "wings-at-rest=closed eyes=apart build=thin"
BIG = "wings-at-rest=flat eyes=broad build=long"
CHASER = "wings-at-rest=flat eyes=broad build=stout"

# name | sex, where the answers say it | third of the year | habitat | traits
LOOKS = {
    "azure": ("Coenagrion puella", "male", MID_JULY, "garden-pond", f"{DAMSELFLY} abdomen-colour=blue spur=present shoulder-stripes=thin shoulder-stripe-form=entire segment-2-mark=u eye-bar=absent"),
    "common blue": ("Enallagma cyathigerum", "male", MID_JULY, "lake", f"{DAMSELFLY} shoulder-stripes=broad spur=absent segment-2-mark=ball-on-stalk segment-8=all-blue segment-9=all-blue"),
    "blue-tailed": ("Ischnura elegans", None, MID_JULY, "pond", f"{DAMSELFLY} abdomen-colour=black segment-8=all-blue segment-9=dark wing-spot-tones=two"),
    "banded": ("Calopteryx splendens", "male", MID_JULY, "river", f"{DAMSELFLY} abdomen-colour=metallic-blue flight=flutters wing-band=middle"),
    "brown hawker": ("Aeshna grandis", None, MID_JULY, "lake", f"{BIG} abdomen-colour=brown wing-tint=amber veins=amber"),
    "southern hawker": ("Aeshna cyanea", None, MID_JULY, "garden-pond", f"{BIG} shoulder-stripes=broad top-pattern=paired-spots end-spots=joined"),
    "four-spotted": ("Libellula quadrimaculata", None, MID_JULY, "pond", f"{CHASER} node-spot=present abdomen-colour=brown"),
    "emperor": ("Anax imperator", None, MID_JULY, "lake", f"{BIG} thorax-colour=apple-green abdomen-colour=blue central-line=bold perch=seldom"),
    "skimmer": ("Orthetrum cancellatum", "male", MID_JULY, "lake", f"{CHASER} abdomen-colour=blue tip=black eye-colour=green wing-base=clear perch=ground"),
    "common darter": ("Sympetrum striolatum", None, EARLY_NOVEMBER, "pond", "wings-at-rest=swept-forward eyes=broad build=slight abdomen-colour=red legs=striped abdomen-shape=parallel eye-underside=yellow veins=dark"),
    "red-eyed": ("Erythromma najas", "male", MID_JULY, "lake", f"{DAMSELFLY} eye-colour=red abdomen-colour=black perch=floating segment-10=blue segment-8=dark shoulder-stripes=none"),
}  # fmt: skip
