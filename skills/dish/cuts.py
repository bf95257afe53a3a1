"""Cuts and other things that go into an oven: size, make-up and finish, found by the words that people use."""
from __future__ import annotations

import re
from dataclasses import dataclass, replace
from typing import Protocol

from skills.breads import FLATBREADS, LOAVES
from skills.dish.finishes import (
    BAKE,
    BIRD,
    BREAD,
    CAKE,
    COLLAGEN,
    CUSTARD,
    FISH,
    FLATBREAD,
    GRAIN,
    MINCED,
    PULSE,
    ROAST,
    ROOT,
    Finish,
)
from skills.physics.food import Composition


class Told(Protocol):
    """What tells a cut; anything but the name may be None. done_c: the core heat [degC] that was asked for."""
    @property
    def name(self) -> str: ...
    @property
    def cut(self) -> str | None: ...
    @property
    def done_c(self) -> float | None: ...


@dataclass(frozen=True)
class Cut:
    """piece_kg: weight of one piece if it comes in pieces, 0 for one joint of the weight said. slender [-]: length over
    thickness of the piece; shape 0 slab, 1 cylinder, 2 ball (1.5: a stubby lump that loses heat at its ends too).
    slower [-]: time to tender beside a middling shoulder. juice_share [-]: of raw mass into the liquor.
    usual_kg: weight if none is said. moves_heat [-]: conductivity beside the make-up's own, where vapour carries heat
    inwards (from memory). Sizes, slower and juice: common practice, no source.
    """
    name: str
    words: tuple[str, ...]
    made_of: Composition
    finish: Finish
    usual_kg: float
    piece_kg: float = 0.0
    slender: float = 1.5
    shape: float = 1.5
    slower: float = 1.0
    juice_share: float = 0.22
    moves_heat: float = 1.0


# Mass shares of raw food, lean and fat: USDA nutrient database (numbers in the entries).
_SHORT_RIB = Composition(0.4829, 0.1440, 0.3623, ash=0.0068)       # 13147
_CHUCK = Composition(0.5993, 0.1698, 0.2131, ash=0.0081)           # 13817
_POT_ROAST = Composition(0.6178, 0.1914, 0.1857, ash=0.0087)       # 13811
_LAMB = Composition(0.6139, 0.1658, 0.2145, ash=0.0089)            # 17035
_PORK = Composition(0.6402, 0.1718, 0.1799, ash=0.0088)            # 10070
_LEAN = Composition(0.7263, 0.1955, 0.0714, ash=0.0102)            # 10072, pork shoulder lean; shank, cheek, goat alike
_CARROT = Composition(0.8829, 0.0093, 0.0024, 0.0678, 0.028, 0.0097)   # 11124
_POTATO = Composition(0.7934, 0.0202, 0.0009, 0.1527, 0.022, 0.0108)   # 11352
# From memory:
_BELLY = Composition(0.50, 0.13, 0.36, ash=0.007)
_CHICKEN = Composition(0.66, 0.19, 0.15, ash=0.008)
_FISH = Composition(0.76, 0.19, 0.04, ash=0.011)
_SOAKED_BEANS = Composition(0.55, 0.11, 0.006, 0.22, 0.09, 0.02)
_DOUGH = Composition(0.42, 0.07, 0.01, 0.46, 0.02, 0.012)
_CAKE = Composition(0.32, 0.06, 0.16, 0.44, 0.01, 0.015)
_CUSTARD = Composition(0.78, 0.06, 0.06, 0.09, ash=0.008)
_PUDDING = Composition(0.74, 0.04, 0.04, 0.17, ash=0.007)

CUTS: tuple[Cut, ...] = (
    # Beside the words of a cut, those of the animal alone: "hogget", "goat" mean the joint that braises.
    Cut("shanks", ("shank", "knuckle"), _LEAN, COLLAGEN, 2.0, piece_kg=0.45, slender=2.2, slower=0.95),
    Cut("cheeks", ("cheek", "cheeks"), _LEAN, COLLAGEN, 2.0, piece_kg=0.40, slender=1.6, slower=1.65),
    Cut("short ribs", ("short rib", "ribs", "rib"), _SHORT_RIB, COLLAGEN, 2.5, piece_kg=0.35, slender=2.0,
        juice_share=0.20),
    Cut("oxtail", ("oxtail", "tail"), _SHORT_RIB, COLLAGEN, 2.0, piece_kg=0.20, slender=1.2, slower=1.25,
        juice_share=0.20),
    Cut("shin", ("shin", "osso", "leg of beef"), _LEAN, COLLAGEN, 2.5, piece_kg=0.40, slender=1.4, slower=1.15),
    Cut("brisket", ("brisket", "tongue"), _POT_ROAST, COLLAGEN, 2.5, slender=1.6, slower=1.45),
    Cut("beef chuck", ("chuck", "blade", "feather", "pot roast", "beef", "ox", "braising steak", "veal",
                       "silverside", "featherblade"), _CHUCK, COLLAGEN,
        2.5),
    Cut("stewing meat", ("stew", "stewing", "diced", "cubes", "goulash", "casserole", "curry", "chilli", "chili",
                         "tagine", "ragu", "ragout", "hotpot", "hot pot", "cassoulet", "daube", "braise", "birria",
                         "barbacoa", "dhansak", "korma", "gumbo", "bourguignon", "pot au feu", "blanquette",
                         "stroganoff", "rendang", "adobo", "pozole", "mole", "harira", "cawl", "scouse", "lobby",
                         "hash", "peposo", "stracotto", "brasato", "bollito", "bigos", "cholent", "stifado",
                         "vindaloo", "rogan josh", "bolognese", "scotch broth", "feijoada", "kleftiko"),
        _CHUCK, COLLAGEN, 2.0,
        piece_kg=0.04, slender=1.0, slower=0.95),
    Cut("pork belly", ("belly",), _BELLY, COLLAGEN, 2.0, slender=2.5, shape=1.0, slower=0.9, juice_share=0.2),
    Cut("pork hock", ("hock", "ham hock", "trotter"), _PORK, COLLAGEN, 2.0, piece_kg=0.7, slender=1.6),
    Cut("pork collar", ("collar", "neck end", "boston"), _PORK, COLLAGEN, 2.5, slower=1.0),
    Cut("pork shoulder", ("pork shoulder", "pulled pork", "pork", "porchetta", "carnitas", "suckling pig"),
        _PORK, COLLAGEN, 3.0, slower=0.9),
    Cut("lamb neck", ("neck", "scrag"), _LAMB, COLLAGEN, 1.5, piece_kg=0.35, slender=1.6, slower=0.95),
    Cut("goat leg", ("goat", "kid"), _LEAN, COLLAGEN, 2.2, slender=1.7),
    Cut("venison haunch", ("venison", "deer", "haunch", "boar", "haunches"), _LEAN, COLLAGEN, 2.2, slender=1.5),
    Cut("mutton shoulder", ("mutton",), _LAMB, COLLAGEN, 2.8, slower=1.2),
    Cut("hogget shoulder", ("hogget",), _LAMB, COLLAGEN, 2.8, slower=1.05),
    Cut("lamb shoulder", ("lamb", "shoulder", "leg", "gigot"), _LAMB, COLLAGEN, 2.8),
    Cut("hare or rabbit", ("rabbit", "hare"), _LEAN, COLLAGEN, 1.5, piece_kg=0.25, slender=2.0, slower=0.6),
    Cut("old hen", ("hen", "cockerel", "coq", "guinea fowl"), _CHICKEN, COLLAGEN, 2.0, slender=1.6, slower=0.6),
    Cut("chicken pieces", ("thigh", "thighs", "drumstick", "wing", "chicken pieces"), _CHICKEN, BIRD, 1.5,
        piece_kg=0.15, slender=2.0),
    Cut("whole bird", ("chicken", "turkey", "duck", "goose", "bird", "poussin", "pheasant", "partridge", "pigeon",
                       "quail", "grouse", "capon", "fowl", "woodcock", "spatchcock", "wildfowl", "chook"),
        _CHICKEN, BIRD, 2.0, slender=2.4),
    Cut("minced meat", ("mince", "minced", "meatloaf", "meatballs", "meatball", "burger", "burgers", "kofta",
                        "koftas", "sausage", "sausages", "faggots", "bangers", "haggis", "chipolatas", "faggot"),
        _CHUCK, MINCED, 1.5, piece_kg=0.12, slender=1.5),
    Cut("octopus", ("octopus", "squid", "cuttlefish"), _FISH, COLLAGEN, 1.5, piece_kg=0.25, slender=3.0,
        shape=1.0, slower=0.45),
    Cut("fish", ("fish", "salmon", "trout", "cod", "bream", "bass", "mackerel", "haddock", "hake", "sardines",
                 "sardine", "plaice", "sole", "turbot", "halibut", "pollock", "mullet", "monkfish", "herring",
                 "herrings", "kippers", "kipper", "eel", "skate"), _FISH, FISH, 1.0,
        piece_kg=0.4, slender=3.0, shape=1.0),
    Cut("roast joint", ("roast", "rib roast", "roast rib", "roast beef", "roast pork", "roast lamb", "rump",
                        "sirloin", "topside", "loin", "fillet", "rack", "gammon", "ham", "joint", "tri tip"),
        _LEAN, ROAST, 2.0, slender=1.6),
    Cut("steaks", ("steak", "ribeye", "chop", "cutlet", "kebab", "skewer", "souvlaki"),
        _LEAN, ROAST, 1.0, piece_kg=0.25,
        slender=3.0, shape=1.0),
    Cut("beans", ("bean", "beans", "borlotti", "cannellini", "haricot", "kidney beans", "butter beans",
                  "flageolet", "flageolets"),
        _SOAKED_BEANS, PULSE, 1.5, piece_kg=0.0011, slender=1.3, shape=2.0, juice_share=-0.12),
    Cut("chickpeas", ("chickpea", "chickpeas", "garbanzo"), _SOAKED_BEANS, PULSE, 1.5, piece_kg=0.0011, slender=1.0,
        shape=2.0, slower=1.2, juice_share=-0.12),
    Cut("lentils", ("lentil", "lentils", "dal", "dhal", "peas", "pulses", "dahl", "daal", "sambar"),
        _SOAKED_BEANS, PULSE, 1.0, piece_kg=0.0002,
        slender=1.0, shape=2.0, slower=0.5, juice_share=-0.5),
    Cut("roots", ("carrot", "carrots", "root", "roots", "beetroot", "beets", "swede", "turnip", "parsnip",
                  "celeriac", "squash", "pumpkin", "onion", "onions", "vegetables", "veg", "ratatouille",
                  "cabbage", "cauliflower", "mushroom", "mushrooms", "aubergine", "courgette", "leek", "fennel",
                  "peppers", "compote", "soup", "minestrone", "borscht", "chowder", "bisque", "tomato", "tomatoes",
                  "garlic", "corn", "sweetcorn", "artichoke", "asparagus", "sprouts", "caponata", "shakshuka",
                  "parmigiana", "chutney", "ketchup"),
        _CARROT, ROOT, 1.5, piece_kg=0.06, slender=1.4, juice_share=0.08),
    # From memory: fruit is soft in about half the time of a carrot.
    Cut("fruit", ("fruit", "apple", "pear", "plum", "quince", "fig", "rhubarb", "jam", "marmalade"), _CARROT, ROOT, 1.5,
        piece_kg=0.12, slender=1.0, slower=0.5, juice_share=0.08),
    Cut("potatoes", ("potato", "potatoes", "spuds", "gratin", "tatties", "tattie", "taters", "roasties", "jackets",
                     "dauphinoise", "boulangere", "stovies", "yam", "plantain"),
        _POTATO, ROOT, 2.0, piece_kg=0.12, slender=1.2,
        juice_share=0.0),
    Cut("rice pudding", ("rice pudding", "rice", "pudding", "porridge", "barley", "polenta", "congee", "risotto",
                         "pilaf", "pilau", "pasta", "macaroni", "couscous", "paella", "biryani", "jollof",
                         "jambalaya", "kedgeree", "bulgur", "grits"), _PUDDING,
        GRAIN, 0.2, piece_kg=0.0002, slender=2.0, shape=1.5, juice_share=-1.2),
    Cut("custard", ("custard", "flan", "creme", "cheesecake", "terrine", "clafoutis", "frittata", "quiche"),
        _CUSTARD, CUSTARD, 1.0,
        slender=12.0, shape=0.5, juice_share=0.0, moves_heat=2.5),
    Cut("flatbread", FLATBREADS, _DOUGH, FLATBREAD,
        0.25, piece_kg=0.25, slender=40.0, shape=0.0, juice_share=0.0),
    Cut("bread", LOAVES, _DOUGH, BREAD, 1.0,
        piece_kg=0.8, slender=2.0, shape=1.0, juice_share=0.0, moves_heat=4.0),
    Cut("pie", ("pie", "pies", "fish pie", "chicken pie", "meat pie", "lamb pie", "beef pie", "game pie",
                "cottage pie", "shepherds pie", "shepherd s pie", "pasty", "pasties", "lasagne", "lasagna",
                "moussaka", "enchiladas", "cannelloni", "spanakopita", "galette", "empanada", "samosa",
                "mac and cheese", "mac n cheese", "hotdish", "toad in the hole"),
        _POTATO, BAKE, 1.2, slender=6.0, shape=0.5, juice_share=0.0),
    Cut("cake", ("cake", "cakes", "sponge", "gingerbread", "brownies", "cobbler", "crumble", "tart", "scones",
                 "muffins", "biscuits", "cookies", "shortbread", "flapjacks", "strudel", "cornbread", "corn bread",
                 "parkin", "fruitcake", "cupcake", "bara brith", "yorkshires", "yorkshire pudding", "welsh cakes",
                 "hotcakes"),
        _CAKE, CAKE, 1.0, slender=4.0, shape=0.5, juice_share=0.0, moves_heat=4.0),
)
DEFAULT = next(cut for cut in CUTS if cut.name == "lamb shoulder")


def _words(text: str) -> str:
    return " " + re.sub(r"[^a-z]+", " ", text.lower()).strip() + " "


def find_cut(*said: str | None) -> tuple[Cut, bool]:
    """The cut that these words name and whether any did; the longest fitting word wins, earlier texts before later.

    >>> find_cut("lamb shanks")[0].name, find_cut("white beans")[0].name, find_cut(None, "hogget")[0].name
    ('shanks', 'beans', 'hogget shoulder')
    """
    for text in said:
        if not text:
            continue
        words = _words(text)
        fits = [(len(word.split()), rank, cut) for rank, cut in enumerate(CUTS) for word in cut.words
                if f" {word} " in words or f" {word}s " in words]
        if fits:
            # More words said more; then what it was made into; of equals the earlier, from cut to animal.
            return min(fits, key=lambda fit: (-fit[0], not _made_into(fit[2], words), fit[1]))[2], True
    return DEFAULT, False


# What a dish is called by last is what it is, whatever stands in front: a steak pie, a mushroom risotto, pork chops.
_MADE = frozenset(("stewing meat", "minced meat", "steaks", "rice pudding", "custard", "flatbread",
                   "bread", "pie", "cake"))


def _made_into(cut: Cut, words: str) -> bool:
    """Whether the text ends in this dish; a bird's pieces stay a bird, since that wants its own heat."""
    last = any(words.endswith((f" {word} ", f" {word}s ")) for word in cut.words)
    return cut.name in _MADE and last and not (cut.name == "steaks" and _BIRD.search(words))


_BIRD = re.compile(r" (?:chicken|turkey|duck|goose|bird)s? ")


def cut_of(told: Told) -> tuple[Cut, bool]:
    """The cut of a dish, with the finish that it has if a core heat was asked for, and whether its words were known.

    Meat that is wanted at a core heat is roasted, though its cut be one that others braise.
    """
    cut, known = find_cut(told.cut, told.name)
    finish = cut.finish
    if told.done_c is None:
        return cut, known
    if finish.flesh and finish.law == "rate":
        finish = ROAST
    return replace(cut, finish=finish.at(told.done_c)), known


# Joints that every animal has: alone they are taken for the usual one.
_PARTS = frozenset((
    "shoulder", "leg", "neck", "rib", "ribs", "shank", "shanks", "shin", "tail", "cheek", "cheeks", "belly",
    "loin", "haunch", "collar"))
# Words beside a cut that say nothing of the animal.
_PLAIN = frozenset((
    "a", "an", "the", "of", "on", "in", "off", "with", "bone", "boned", "boneless", "rolled", "tied", "big",
    "small", "large", "whole", "half", "diced", "cubed", "trimmed", "dry", "dried", "fresh", "frozen", "soaked",
    "tinned", "free", "range", "organic", "roasting", "raw", "piece", "pieces"))


# A piece of meat under this weight has no middle that a probe finds (common practice, no source) [kg].
PROBED_KG = 0.15


def has_core(told: Told) -> bool:
    """Whether a probe in its middle tells anything: not in beans, roots, rice or diced meat, which a word tells of."""
    cut, _ = cut_of(told)
    return cut.finish.law != "rate" or (cut.finish.flesh and not 0.0 < cut.piece_kg < PROBED_KG)


def taken_for(told: Told) -> str | None:
    """The cut that a dish is taken for, where its words do not name one of the table: "yak", "yak shoulder"."""
    cut, known = cut_of(told)
    if not known:
        return cut.name
    ours = {part for each in CUTS for word in (each.name, *each.words) for part in word.split()}
    strange = [word for word in _words(f"{told.cut or told.name}").split()
               if not {word, word.removesuffix("s")} & (ours | _PLAIN)]
    part_alone = any(word in _PARTS for word in _words(told.cut or told.name).split())
    return cut.name if strange and part_alone else None
