"""The weather in our yard now: rain or dry, wind or calm; one fact a message."""

from __future__ import annotations

from typing import Any

from bot.reading.lexicon import bag
from bot.reading.scene import Draft, Scene

_SKY = {
    "rain": r"(?:(?:bit|touch|spot|drop|lot) of (?:a )?(?:rain|drizzle)"
    r"|raining|rain on and off|rain(?: (?:just|'s|is|has|now|again|only|coming))*(?: (?:starting|started"
    r"|on(?!(?: [.])? and off)"
    r"|coming down|heavy|pouring|here|set in|come on|coming in|falling|back|begun|has started|moved in"
    r"|lashing))|drizzling|drizzle|drizzly|pouring|tipping down|chucking it down|spitting|bucketing"
    r"|showery|wet out(?: here)?|started to rain|starting to rain|begun to rain|light rain|heavy rain"
    r"|a shower|rain(?=(?: now)? ?(?:$|[.,;!|]|and ))|sky(?: 's| is| looks| gone)+ (?:raining|wet|pouring)|rain here"
    r"|rain in yard|sleeting|snowing|tipping it down|hammering down|pelting"
    r"|lashing down|showers|it 's wet|hailing|hail|wet(?= and windy)|(?<=windy and )wet"
    r"|(?:hoying|siling|stotting|teeming|belting|throwing|bucketing|lashing)(?: it)? down|snow(?: (?:coming|'s"
    r"|falling|down))+)",
    "dry": r"(?:(?:sky|weather|yard|air outside|outside|day)(?: 's| is| still| looks| all| :)+ (?:dry|clear"
    r"|blue|sunny)|(?:it 's |still |staying |all |nice and |bone )*dry(?: (?:out(?: here)?|here|day|and|now|today"
    r"|so far|outside|again|weather))*|rain(?: 's| has| is)* (?:stopped|gone|cleared|over|passed"
    r"|eased off|off|blown over|moved on)|stopped raining|no rain(?: now| here| yet| so far)?"
    r"|no more rain|sunny|sun 's out|clear skies|blue sky|clear sky|not raining(?: now| any more"
    r"| here)?|it 's clear|clear as (?:a )?bell|bright and clear|cleared up|sun out|fine and dry)",
}
_WIND = {
    "windy": r"(?:(?:bit|touch|lots?) of (?:a )?wind|(?<![\w'] )(?:so |too )?much wind|windy(?: here| out| today| now)?"
    r"|gusty|breezy|blowy|blustery|gusting|gusts|wind(?: (?:'s|has|is|just|really"
    r"|been))* (?:got up|gets up|up|picking up|picked up|strong|getting up|rising|gusting|blowing(?: (?:in|into"
    r"|at|hard|straight))?(?: <W>| <P>)*?|howling|has got up|risen|whipping|straight into mouth"
    r"|freshening|into <P>|strengthening|swirling)|strong wind|stiff breeze|breeze(?: (?:'s|is|has"
    r"|just))* (?:up|got up|picking up|picked up|stiff|strong)|blowing a (?:gale|hoolie|hooley|storm)"
    r"|gale|blowing (?:hard|like mad)"
    r"|strong breeze|gusty wind|blowing(?= ?(?:$|[.,;!|])))",
    "calm": r"(?:calm|(?:dead|very|completely|perfectly|quite) still(?: (?:out(?: here)?|outside|in yard))?"
    r"(?= ?(?:[.,;!|]|$|now|today))"
    r"|still(?= ?(?:[.,;!|]|$))|still (?:air|day|out|out here|morning|and)|no wind|wind(?: (?:'s|has|is"
    r"|just))* (?:dropped|died|died down|gone(?= ?(?:$|[.,;!|]|now|completely|down))|calmed|calm|down|eased|still"
    r"|dropped off|stopped|fallen"
    r"|dead)|windless|(?:hardly any|not much) wind"
    r"|(?:not|hardly|barely|scarcely) (?:a )?breath(?: of wind)?|no breeze|light wind|(?:barely|scarcely) any wind"
    r"|wind has dropped|light breeze|dead calm|not windy)",
}


_WEATHER_WORDS = bag(
    "hoying siling stotting teeming belting throwing "
    "wet raining rain drizzling drizzle drizzly pouring tipping chucking spitting bucketing showery wet shower "
    "showers sleeting snowing hammering pelting lashing hailing hail snow dry sunny sun clear sky skies cleared "
    "fine windy "
    "gusty breezy blowy blustery gusting gusts wind breeze blowing gale calm still windless breath"
)


def weather(scene: Scene) -> None:
    """The yard's weather, with the degrees that stand beside it."""
    _sky_and_wind(scene)
    told = [draft for draft in scene.drafts if draft.kind == "weather"]
    if len(told) != 1 or "celsius" in told[0].fields:
        return
    for at, item in enumerate(scene.items):
        a, b = scene.segment(at)
        frost = item.kind == "N" and not scene.used[at] and -30 <= item.value.value < 0
        if frost and beside_weather(scene, told[0], at):
            told[0].fields["celsius"] = item.value.value
            scene.use(at, at + 1, "weather")
            return
        if item.kind != "H" or scene.used[at] or scene.moods[at] != "fact" or not -30 <= item.value <= 45:
            continue
        clause = zip(scene.items[a:b], scene.used[a:b], strict=True)
        beside = told[0].first <= b + 2 and a <= scene.segment(told[0].last - 1)[1] + 2
        if beside and all(each is item or each.word in _SMALL_BESIDE or used == "weather" for each, used in clause):
            told[0].fields["celsius"] = item.value
            scene.use(at, at + 1, "weather")
            return


def beside_weather(scene: Scene, told: Draft, at: int) -> bool:
    """ "minus 1 and not a breath of wind": below nought it is the yard's own heat."""
    a, b = scene.segment(at)
    return scene.moods[at] == "fact" and told.first <= b + 2 and a <= told.last + 2


_SMALL_BESIDE = bag("and at about only just now here out outside it 's around a")


def _sky_and_wind(scene: Scene) -> None:
    drafts = [draft for draft in scene.drafts if draft.kind == "weather"]
    merged: Draft | None = drafts[0] if drafts else None
    for draft in drafts[1:]:
        if merged is not None:
            merged.fields = {**draft.fields, **merged.fields}
            merged.first, merged.last = min(merged.first, draft.first), max(merged.last, draft.last)
        scene.drafts.remove(draft)
    _temperature(scene)
    if not scene.has_any(_WEATHER_WORDS):
        return
    drafts = [draft for draft in scene.drafts if draft.kind == "weather"]
    merged = drafts[0] if drafts else None
    # The sky twice: "no wind and dry" is weather once the wind is known.
    for key, group in (("sky", _SKY), ("wind", _WIND), ("sky", _SKY)):
        for value, pattern in group.items():
            for found in scene.find(pattern, mood=None, fresh=False):
                if merged is not None and key in merged.fields:
                    continue
                if not _ours(scene, found.first, found.last, value, found.match.group()):
                    continue
                fields: dict[str, Any] = {"is": "weather", key: value}
                if merged is None:
                    merged = scene.add(fields, found.first, found.last, "weather")
                else:
                    merged.fields[key] = value
                    merged.first, merged.last = min(merged.first, found.first), max(merged.last, found.last)
                    scene.use(found.first, found.last, "weather")
                break


def _temperature(scene: Scene) -> None:
    """ "it's 9 degrees out here", "4C and raining": a heat of the yard, told with its degrees or with the sky."""
    if any(draft.kind == "weather" for draft in scene.drafts):
        return
    for found in scene.find(
        r"(?:it 's |it is |only |about |now )*(?P<v><V>)(?: (?:out|outside|out here))?(?: and| ,| but)*(?: (?:raining"
        r"|dry|windy|calm|sunny|breezy|drizzling|blowy|cold|gusty|pouring|still|overcast|cloudy|freezing|drizzly|wet"
        r"|bright|clear|showery|chilly|frosty|foggy|misty|icy|parky))"
    ):
        value = found.number("v")
        if (
            value is not None
            and -30 <= value <= 45
            and (str(found["v"])[0] == "H" or found.match.group().startswith(("it 's", "it is", "only")))
        ):
            at = int(str(found["v"])[1:])
            scene.add({"is": "weather", "celsius": value}, at, at + 1, "weather")
            return
    for found in scene.find(
        r"(?:raining|dry|windy|calm|sunny|sun 's out|sun out|no wind|drizzle|rain|breezy|drizzling|blowy"
        r"|pouring|still|overcast|cloudy"
        r"|gusty)(?: and|,| ,)* (?P<v><H>)(?= ?(?:$|[.,;!|]|out|outside|here|now|and))"
    ):
        value = found.number("v")
        if value is not None and -30 <= value <= 45:
            at = int(str(found["v"])[1:])
            scene.add({"is": "weather", "celsius": value}, at, at + 1, "weather")
            return
    feel = (
        r"(?:frosty|foggy|misty|overcast|chilly|cold|mild|warm|hot|fresh|nippy|freezing|parky|frosty|muggy|baking"
        r"|bitter|cool|icy)"
    )
    where = r"(?:out|outside|out here|outdoors|in yard|morning|day|here today|this morning|today)"
    for found in scene.find(
        rf"{feel} {where}(?: [,:-])?(?: (?:only|about|just|it 's|at|around|and))* (?P<v><H>)"
        rf"|(?P<v><H>)(?: [,-])?(?: (?:and|so|but))* {feel} {where}"
    ):
        value = found.number("v")
        if value is not None and -30 <= value <= 45:
            scene.add({"is": "weather", "celsius": value}, found.first, found.last, "weather")
            return


_ELSEWHERE = bag(
    "home house mine ours theirs said reckon forecast later tomorrow yesterday overnight expected might may could town "
    "coast london "
    "tonight afternoon weekend coming due says radio app hope hoping maybe threatening looks earlier was "
    "last if wood logs log kindling meat chips towels towel hands dough flour spice basis bone ferment rub "
    "cider wine fast road lane path"
)


_HERE = bag(
    "it that weather day yard outside air morning sun everything ground all place today here out afternoon evening now "
    "there everywhere school gazebo roof tent still"
)


def _alone(scene: Scene, first: int, last: int) -> bool:
    """Whether nothing else is told in the clause but weather: "dry and dead still"."""
    a, b = scene.segment(first)
    told = [n for draft in scene.drafts if draft.kind == "weather" for n in range(draft.first, draft.last)]
    small = bag("and but it 's is out here outside now today in yard all very")
    return all(
        first <= n < last or n in told or scene.items[n].word in small or scene.items[n].kind == "H"
        for n in range(a, b)
    )


def _behind_wind(scene: Scene, first: int) -> bool:
    """ "no wind and dry": the no is the wind's alone."""
    joined = first > 1 and scene.items[first - 1].word in ("and", "but", ",")
    return joined and any(
        draft.kind == "weather" and draft.last == first - 1 and scene.items[draft.last - 1].word in _WEATHER_WORDS
        for draft in scene.drafts
    )


def _of_weather(scene: Scene, first: int, last: int) -> bool:
    """Whether the rest of the message speaks of weather: "dry, still, 12 C"."""
    others = {item.word for item in (*scene.items[:first], *scene.items[last:]) if item.kind == ""}
    return any(draft.kind == "weather" for draft in scene.drafts) or bool(
        others & bag("yard weather outside dry sunny wind rain cloudy overcast cold sky")
    )


def _ours(scene: Scene, first: int, last: int, value: str, text: str) -> bool:
    moods = set(scene.moods[first:last])
    if moods & {"question", "what_if"}:
        return False
    a, b = scene.segment(first)
    words = set(scene.row.words(a, b))
    if moods != {"fact"}:
        began = scene.items[first].word in ("no", "not") and (
            first == 0 or scene.moods[first - 1] == "fact" or scene.items[first - 1].kind == "."
        )
        if not began and not (scene.doubted.isdisjoint(range(first, last)) and _behind_wind(scene, first)):
            return False
    told = {n for draft in scene.drafts if draft.kind == "weather" for n in range(draft.first, draft.last)}
    if any(scene.used[n] and n not in told for n in range(first, last)):
        return False
    if (words - {"bone"} if "dry" in words else words) & _ELSEWHERE:
        return False
    if (text == "rain" or text.endswith("still")) and not (
        _alone(scene, first, last) and (text == "rain" or _of_weather(scene, first, last))
    ):
        return False
    before = scene.items[first - 1] if first > a else None
    if before is not None and before.word in ("'s", "is") and first - 2 >= a:
        subject = scene.items[first - 2]
        if subject.kind == "" and subject.word.isalpha() and subject.word not in _HERE | _WEATHER_WORDS:
            return False  # "brighton's sunny"
    if value == "dry":
        plain = text.split()
        if plain[-1] == "dry" or plain[0] == "dry":
            clear = (
                any(word in plain for word in bag("out here day today outside weather sky yard 's again"))
                or any(draft.kind == "weather" for draft in scene.drafts)
                or bag("wind windy calm cold sunny breezy bright still breeze gusty outside") & words
            )
            if not clear or any(item.kind in ("D", "L") for item in scene.items[a:b]):
                return False
            if before is not None and before.kind == "D":
                return False
    behind = scene.items[last].word if last < len(scene.items) else ""
    if text == "calm" and (behind in ("it", "them", "her", "down") or (before is not None and before.word == "to")):
        return False  # "lid off to calm it"
    if value == "rain" and text.split()[-1] == "wet" and scene.row.words(last, b) and (
            behind not in bag("out here outside today again and now but too everywhere so")):
        return False  # "it's the wet stack"
    if (
        value == "calm"
        and text in ("calm",)
        and words & bag("everyone keep down stay crowd class guests kids group be")
    ):
        return False
    if text in ("spitting", "showers", "gale", "blowing", "still and") and words & {
        "fat",
        "fire",
        "oil",
        "hot",
        "embers",
        "smoke",
    }:
        return False
    return not (
        text.startswith("pouring")
        and any(
            item.kind in ("D", "L") or item.word in bag("sauce water tea drinks stock") for item in scene.items[a:b]
        )
    )
