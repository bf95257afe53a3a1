"""An allergen's word beside a dish of the room, whatever was done with it: "stirred tahini into the lamb", "loosened
the stew with cream", "the lamb's got a yoghurt sauce on it". Every other rule of contents comes first."""

from __future__ import annotations

from bot.reading.joining import between
from bot.reading.lexicon import allergen_runs, allergens_in, bag
from bot.reading.rules_contents import ADDED, LABELS, MADE_WITH
from bot.reading.scene import Scene, clean

_INTO = bag("in into on onto over through to around under top")
_HOLDS = bag("with has have got contains using")
_DENIED = bag(
    "no not without free nothing none never zero minus instead out off left skip skipped before if when unless until "
    "for guest guests allergy allergic seat table who can't cannot avoid avoids need needs buy bought order ordered "
    "served serve fridge serving beside side separate separately next"
)
_ARTICLES = bag(
    "a an some more the our my bit of on in it knob splash glug drop dash glass spoon spoonful handful lump tub tin pot"
)
# What holds, or often holds, an allergen that its own name does not say (skills/allergens/hidden.toml).
MAY_HOLD = bag("wine cider prosecco vermouth sherry pesto dukkah zaatar piccalilli granola suet")
# Before a food these say how much of it or that it is so, and behind it what is made of it.
_NO_SORT = bag(
    "and or plus with is are was were has have had got been then also just now up last rest end whole half all few two "
    "three four five six handful handfuls spoons spoonfuls knobs pats pat dollop dollops sprinkle sprinkling dusting "
    "brush layer bag packet sachet jar can cup cups grams g ml tbsp tsp pinch scoop slosh swirl ladle block slab so it "
    "them that this there i we he she they someone somebody little big extra couple thin went to at as for from by "
    "scattering scatter grating good bunch put load loads amount slug squeeze slice slices piece pieces"
)
_SORTS_OF = bag("sauce paste wash yolk yolks oil powder crust mix")
_MOST_WORDS = 3


def contents_beside(scene: Scene) -> None:
    """Allergens that a clause puts into its only dish, or says that it holds."""
    for first, last in scene.sentences:
        _by_label(scene, first, last)
        for begin, end in between(scene.items, first, last, lambda item: item.kind == "."):
            _clause(scene, begin, end)


_SAYS = bag("says say lists has contains with shows reads names")


def _by_label(scene: Scene, first: int, last: int) -> None:
    """ "stirred bouillon powder into the oxtail, label says celery": of the thing that went into the dish before it;
    "label says celery and maybe wheat": of nothing told with it, and what may be in it is as good as in it."""
    for begin in range(first, last - 2):
        end = scene.segment(begin)[1]
        words = scene.row.words(begin, end)
        opens = begin == first or scene.items[begin - 1].kind == "." or scene.items[begin - 1].word == "the"
        if not opens or words[:1] == () or words[0] not in LABELS or words[1:2] == () or words[1] not in _SAYS:
            continue
        told = scene.used[begin:end]
        asked = any(mood in ("question", "what_if") for mood in scene.moods[begin:end])
        if set(words) & _DENIED or asked or any(told):
            continue
        named = [(scene.row.words(n, n + 1), name) for n in range(begin + 2, end)
                 for name in allergens_in(scene.row.words(n, n + 1))]
        item, dish, since = _went_in(scene, first, begin)
        if dish is not None:
            # The label says of it what its own words did not.
            scene.drafts[:] = [draft for draft in scene.drafts if not (
                draft.kind == "contents" and first <= draft.first < begin and draft.fields.get("dish") == dish
                and "allergen" not in draft.fields and str(draft.fields["item"]).endswith(item))]
        for own, name in named:
            fields = {"is": "contents", "item": item or " ".join(own), "dish": dish, "allergen": name}
            scene.add(fields, since, end, "contents by a label", keep=True)


def _went_in(scene: Scene, first: int, begin: int) -> tuple[str, str | None, int]:
    """What the words before a label put into which dish, and where they begin; "" if they tell of none."""
    dishes = [n for n in range(first, begin) if scene.items[n].kind == "D"
              and str(scene.items[n].value) in scene.context.dishes]
    if len(dishes) != 1:
        return "", None, begin
    back = dishes[0] - 1
    while back > first and scene.items[back].word in ("the", "our", "my", "that"):
        back -= 1
    if back - 2 < first or scene.items[back].word not in _INTO:
        return "", None, begin
    words = scene.row.words(max(first, back - 2), back)
    return clean(" ".join(word for word in words if word not in _ARTICLES)), str(scene.items[dishes[0]].value), first


def _clause(scene: Scene, begin: int, end: int) -> None:
    items = scene.items[begin:end]
    dishes = [n for n in range(begin, end)
              if scene.items[n].kind == "D" and str(scene.items[n].value) in scene.context.dishes]
    words = {item.word for item in items if item.kind == ""}
    if len(dishes) != 1 or any(scene.used[begin:end]) or words & _DENIED or (scene.items[-1].word == "?"):
        return
    if any(mood != "fact" for mood in scene.moods[begin:end]) or any(item.kind not in ("", "D", "T") for item in items):
        return
    dish = dishes[0]
    back = dish - 1
    while back >= begin and scene.items[back].word in ("the", "our", "my", "that"):
        back -= 1
    found: list[tuple[int, tuple[str, str]]] = []
    if back > begin and scene.items[back].word in _INTO:
        found = named_in(scene, begin, back)
    elif (holds := next((n for n in range(dish + 1, end) if scene.items[n].word in _HOLDS), None)) is not None:
        found = named_in(scene, holds + 1, end)
    for _, (item, name) in found:
        fields = {"is": "contents", "item": item, "dish": str(scene.items[dish].value)}
        fields |= {"allergen": name} if name else {}
        scene.add(fields, begin, end, "contents beside a dish")


def named_in(scene: Scene, first: int, last: int) -> list[tuple[int, tuple[str, str]]]:
    """The foods that hold an allergen ("": may hold one), each with where it stands; the words before it say what sort.
    """
    words = [(word, n) for n in range(first, last) for word in scene.items[n].words]
    plain = [word for word, _ in words]
    runs = [(a, b, name) for a, b, name in allergen_runs(plain) if name is not None]
    taken = {at for a, b, _ in allergen_runs(plain) for at in range(a, b)}
    runs += [(at, at + 1, "") for at, word in enumerate(plain) if word in MAY_HOLD and at not in taken]
    found = []
    for a, b, name in sorted(runs):
        since = a
        while since > 0 and a - since < _MOST_WORDS - 1 and plain[since - 1].isalpha() and since - 1 not in taken \
                and plain[since - 1] not in _ARTICLES | _NO_SORT | _INTO | ADDED | MADE_WITH \
                and scene.items[words[since - 1][1]].kind == "":
            since -= 1
        after = b
        while after < len(plain) and plain[after] in _SORTS_OF and after not in taken:
            after += 1
        found.append((words[since][1], (clean(" ".join(plain[since:after])), name)))
    return found
