"""The names of the vice-counties, in the order of their numbers.

There is no official list of names; these are the usual ones.
Sources: Watson, "Cybele Britannica", volume 3 (1852) for 1 to 112; Praeger, "Irish Topographical Botany"
(1901) for H1 to H40.
"""

from __future__ import annotations

# From 1 on: Great Britain and the Isle of Man.
_BRITAIN = """
West Cornwall · East Cornwall · South Devon · North Devon · South Somerset · North Somerset ·
North Wiltshire · South Wiltshire · Dorset · Isle of Wight · South Hampshire · North Hampshire ·
West Sussex · East Sussex · East Kent · West Kent · Surrey · South Essex · North Essex ·
Hertfordshire · Middlesex · Berkshire · Oxfordshire · Buckinghamshire · East Suffolk · West Suffolk
· East Norfolk · West Norfolk · Cambridgeshire · Bedfordshire · Huntingdonshire · Northamptonshire ·
East Gloucestershire · West Gloucestershire · Monmouthshire · Herefordshire · Worcestershire ·
Warwickshire · Staffordshire · Shropshire · Glamorganshire · Breconshire · Radnorshire ·
Carmarthenshire · Pembrokeshire · Cardiganshire · Montgomeryshire · Merionethshire · Caernarvonshire
· Denbighshire · Flintshire · Anglesey · South Lincolnshire · North Lincolnshire · Leicestershire ·
Nottinghamshire · Derbyshire · Cheshire · South Lancashire · West Lancashire · South-east Yorkshire
· North-east Yorkshire · South-west Yorkshire · Mid-west Yorkshire · North-west Yorkshire ·
County Durham · South Northumberland · North Northumberland · Westmorland · Cumberland · Isle of Man
· Dumfriesshire · Kirkcudbrightshire · Wigtownshire · Ayrshire · Renfrewshire · Lanarkshire ·
Peeblesshire · Selkirkshire · Roxburghshire · Berwickshire · East Lothian · Midlothian ·
West Lothian · Fifeshire · Stirlingshire · West Perthshire · Mid Perthshire · East Perthshire ·
Angus · Kincardineshire · South Aberdeenshire · North Aberdeenshire · Banffshire · Moray ·
East Inverness-shire · West Inverness-shire · Argyll · Dunbartonshire · Clyde Isles · Kintyre ·
South Ebudes · Mid Ebudes · North Ebudes · West Ross · East Ross · East Sutherland · West Sutherland
· Caithness · Outer Hebrides · Orkney · Shetland
"""

# From H1 on: Ireland.
_IRELAND = """
South Kerry · North Kerry · West Cork · Mid-Cork · East Cork · Waterford · South Tipperary ·
Limerick · Clare · North Tipperary · Kilkenny · Wexford · Carlow · Laois · South-east Galway ·
West Galway · North-east Galway · Offaly · Kildare · Wicklow · Dublin · Meath · Westmeath · Longford
· Roscommon · East Mayo · West Mayo · Sligo · Leitrim · Cavan · Louth · Monaghan · Fermanagh ·
East Donegal · West Donegal · Tyrone · Armagh · Down · Antrim · Londonderry
"""


def vice_county_names() -> dict[str, str]:
    """All names by number ("11", "H21"), in the order of the numbers."""
    names = {str(number): name for number, name in enumerate(_names(_BRITAIN), 1)}
    # Not Watson's: added later, so that records from the Channel Islands have a number too.
    names["113"] = "Channel Islands"
    names.update({f"H{number}": name for number, name in enumerate(_names(_IRELAND), 1)})
    return names


def _names(block: str) -> list[str]:
    return [name.strip() for name in block.replace("\n", " ").split("·")]


# Words people write for one in a name, each taken for the other wherever it stands.
WORDS = {
    "n": "north",
    "s": "south",
    "e": "east",
    "w": "west",
    "ne": "north east",
    "nw": "north west",
    "se": "south east",
    "sw": "south west",
    "northeast": "north east",
    "northwest": "north west",
    "southeast": "south east",
    "southwest": "south west",
    "midwest": "mid west",
    "middle": "mid",
    "main": "mid",
    "i": "isle",
    "is": "isles",
    "islands": "isles",
    "hants": "hampshire",
    "wilts": "wiltshire",
    "som": "somerset",
    "glos": "gloucestershire",
    "herts": "hertfordshire",
    "middx": "middlesex",
    "berks": "berkshire",
    "oxon": "oxfordshire",
    "bucks": "buckinghamshire",
    "cambs": "cambridgeshire",
    "beds": "bedfordshire",
    "hunts": "huntingdonshire",
    "northants": "northamptonshire",
    "worcs": "worcestershire",
    "warks": "warwickshire",
    "staffs": "staffordshire",
    "salop": "shropshire",
    "glam": "glamorganshire",
    "glamorgan": "glamorganshire",
    "brecon": "breconshire",
    "brecknock": "breconshire",
    "brecknockshire": "breconshire",
    "radnor": "radnorshire",
    "carmarthen": "carmarthenshire",
    "pembroke": "pembrokeshire",
    "cardigan": "cardiganshire",
    "montgomery": "montgomeryshire",
    "merioneth": "merionethshire",
    "caernarfonshire": "caernarvonshire",
    "carnarvonshire": "caernarvonshire",
    "caernarfon": "caernarvonshire",
    "caernarvon": "caernarvonshire",
    "denbigh": "denbighshire",
    "flint": "flintshire",
    "lincs": "lincolnshire",
    "leics": "leicestershire",
    "notts": "nottinghamshire",
    "derbys": "derbyshire",
    "lancs": "lancashire",
    "yorks": "yorkshire",
    "northumb": "northumberland",
    "dumfries": "dumfriesshire",
    "kirkcudbright": "kirkcudbrightshire",
    "wigtown": "wigtownshire",
    "ayr": "ayrshire",
    "renfrew": "renfrewshire",
    "lanark": "lanarkshire",
    "peebles": "peeblesshire",
    "selkirk": "selkirkshire",
    "roxburgh": "roxburghshire",
    "berwick": "berwickshire",
    "fife": "fifeshire",
    "stirling": "stirlingshire",
    "perth": "perthshire",
    "forfar": "angus",
    "forfarshire": "angus",
    "kincardine": "kincardineshire",
    "aberdeen": "aberdeenshire",
    "banff": "banffshire",
    "elgin": "moray",
    "elginshire": "moray",
    "morayshire": "moray",
    "inverness": "invernessshire",
    "argyllshire": "argyll",
    "dunbarton": "dunbartonshire",
    "dumbarton": "dunbartonshire",
    "dumbartonshire": "dunbartonshire",
    "zetland": "shetland",
    "leix": "laois",
    "derry": "londonderry",
}
"""Abbreviations and other spellings, folded to the words of the names above."""

WHOLE_NAMES = {
    "edinburghshire": "83",
    "haddingtonshire": "82",
    "linlithgowshire": "84",
    "easterness": "96",
    "westerness": "97",
    "western isles": "110",
    "kings": "H18",  # "county" is left out before looking
    "queens": "H14",
    "wight": "10",
    "iow": "10",
    "mann": "71",
    "iom": "71",
    "orkney isles": "111",
    "shetland isles": "112",
}
"""Other names for the whole of a vice-county, older or newer."""
