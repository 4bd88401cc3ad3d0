"""The local rules of a job: figures entered at the desk, and the rules of its rule set."""

from typing import Annotated, ClassVar

from fieldbook.records.base import Place, Record
from fieldbook.records.fact import amount, hidden, tick, words
from fieldbook.units import SHORT_LENGTH

_OVER = "Blank takes the generic default. The authority having jurisdiction decides."


class LocalRules(Record, table="local_rules"):
    """Figures of the local authority; each overrides the rule set and the generic default."""

    title: ClassVar[str] = "local rules"
    sheet: ClassVar[Place] = "desk"
    once: ClassVar[bool] = True

    rule_set: Annotated[str, hidden("Rule set")] = ""
    backflow_height_in: Annotated[
        float | None, amount("Backflow height", SHORT_LENGTH, (0, 60), _OVER)
    ] = None
    backflow_code: Annotated[
        str, words("Backflow code", "The code that gives that height, and its section.")
    ] = ""
    mainline_cover_in: Annotated[
        float | None, amount("Mainline cover", SHORT_LENGTH, (0, 72), _OVER)
    ] = None
    lateral_cover_in: Annotated[
        float | None, amount("Lateral cover", SHORT_LENGTH, (0, 72), _OVER)
    ] = None
    cover_code: Annotated[str, words("Cover code", "The code that gives the cover.")] = ""
    rain_sensor_required: Annotated[
        bool | None,
        tick(
            "Rain sensor required",
            "Some states and cities require one on automatic systems.",
            either=True,
        ),
    ] = None
    rain_sensor_code: Annotated[str, words("Rain sensor code")] = ""


class RuleRow(Record, table="rule"):
    """One rule of the job's rule set: its key, its value as text, its source, the set's name."""

    title: ClassVar[str] = "rule"
    sheet: ClassVar[Place] = "desk"

    key: Annotated[str, hidden("Rule")] = ""
    value: Annotated[str, hidden("Value")] = ""
    source: Annotated[str, hidden("Source")] = ""
    set_name: Annotated[str, hidden("Rule set")] = ""
