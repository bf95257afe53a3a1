"""What cooks over a flame and in no oven: "chicken on the grill", "skewers over the embers", "burgers on"."""

from __future__ import annotations

from bot.reading.lexicon import bag
from bot.reading.rings import RINGS
from bot.reading.scene import Found, Scene, compiled
from bot.reading.subjects import BE, is_bread, is_stuff

_FLAME = (r"(?:(?:open |hot |live |fire |charcoal |wood |kettle |tuscan |little |small |big )*(?:grill|grills|bbq"
          r"|barbecue|barbie|coals|embers|fire|flame|flames|griddle|plancha|spit|rotisserie|tripod|fire pit|firepit"
          rf"|asado|braai|{'|'.join(sorted(RINGS))}))")
_PUT = r"(?:put|got|popped|stuck|chucked|slapped|laid|placed|set|have|had|threw|thrown|bunged|whacked)"
_DISH = r"(?P<dish><D>)(?: <D>)?"
_TO = r"(?:on|onto|over|above|on to|over to)"
_END = r"(?= ?(?:$|[.,;!|/()-]|<T>|<N>|<H>|<U>|and |now|at |since |about |for |then|again|already|outside|finally))"
_PATTERNS = (
    rf"{_DISH}{BE} (?:cooking |grilling |roasting |sizzling |charring )?{_TO} (?P<flame>{_FLAME}){_END}",
    rf"{_PUT} {_DISH} {_TO} (?P<flame>{_FLAME}){_END}",
    rf"(?:cooking|grilling|barbecuing|griddling|charring) {_DISH}(?: {_TO} {_FLAME})?{_END}",
    rf"{_DISH}{BE} (?:grilling|barbecuing|griddling|sizzling){_END}",
    rf"{_DISH}{BE} (?P<bare>on){_END}",
    rf"{_PUT} {_DISH} (?P<bare>on){_END}",
)
_WORDS = bag("on onto over above grilling barbecuing griddling sizzling cooking charring")
# What goes on a grill, where no flame is named (common practice, no source).
_GRILLED = bag(
    "burger burgers sausage sausages kebab kebabs skewer skewers kofta koftas chop chops chicken chickens thighs "
    "wing wings drumstick drumsticks drums bangers snags patties cutlets steak steaks poussin poussins prawns "
    "souvlaki satay merguez chorizo bratwurst brats franks halloumi chook chooks"
)
_MAY_HOLD_IT = (None, "load", "phrase for load", "comment")


def over_fires(scene: Scene) -> None:
    """Acts of putting food over a flame that no other rule took."""
    if not scene.has_any(_WORDS) or (scene.items and scene.items[-1].word == "?"):
        return
    standing = {name for name, _ in scene.context.standing}
    for pattern in _PATTERNS:
        for found in scene.find(pattern, fresh=False):
            if {scene.used[n] for n in range(found.first, found.last)} - set(_MAY_HOLD_IT):
                continue
            name = str(found.name("dish"))
            at, _ = found.items_of("dish")
            bare = found.has("bare")
            if is_stuff(scene, at) or (is_bread(name) and bare) or name in standing or _held_off(scene, found):
                continue
            # Onions on the hob are no dish of the class.
            ringed = bool(set(scene.row.words(found.first, found.last)) & RINGS)
            if (bare or ringed) and not set(name.split()) & _GRILLED:
                continue
            act = "out" if name in scene.context.out else "in"
            scene.add({"is": "pot", "act": act, "dish": name, "onto": "ring"}, found.first, found.last, "over a fire")


_BEFORE = compiled(r".*(?:before|until|till|when|if|once|after|while|not|no|never) ")


def _held_off(scene: Scene, found: Found) -> bool:
    """ "before the chicken goes on the grill": not done yet."""
    first, _ = scene.segment(found.first)
    before = " ".join(item.word for item in scene.items[first:found.first] if item.kind == "")
    return _BEFORE.match(f"{before} ") is not None
