"""The job file: every key a person may write, with a sentence of what it means.

The sentences become the JSON schema that editors show (`python -m jigtemplates.parameters.schema`).
"""

from typing import Annotated, Any, Literal

from pydantic import ConfigDict, Field, ValidationInfo, field_validator

from jigtemplates.errors import quoted
from jigtemplates.parameters.budget_table import FitTable
from jigtemplates.parameters.cut_tables import CutTable
from jigtemplates.parameters.deferred import Deferred
from jigtemplates.parameters.fields import Name, Note, Strict, own_fault
from jigtemplates.parameters.inlay_table import InlayTable
from jigtemplates.parameters.make_tables import MakeTable
from jigtemplates.parameters.plate_tables import PlateTable, is_outside
from jigtemplates.parameters.tool_tables import ToolsTable
from jigtemplates.parameters.work_tables import TenonTable, WorkTable

#: What is for a recess alone, and what to do instead where a piece is cut out round a pattern.
INSTEAD = {
    "work": "leave it out: fence and stops bring a template over a recess; lay the pattern where the piece is to come, "
    "and fasten it there",
    "tenon": "leave it out: tenons fill a recess; write their mortise as a job of its own",
    "inlay": "leave it out: the plug is made with the template of its recess; write [inlay] in that job",
}
#: The cuts that loose tenons are made for.
MORTISES = ("slot", "round", "rectangle")


class JobFile(Strict):
    """A job: the cut you want, the tools you own, the plate, and what to make."""

    model_config = ConfigDict(title="A job of jigtemplates")

    title: Name = Field(description="What the template is called on its label and sheets.")
    units: Literal["mm", "in"] | None = Field(
        default=None, description="Unit of bare numbers; without it every length needs its unit."
    )
    notes: Note | None = Field(default=None, description="Anything to read again on the set-up sheet.")
    cut: CutTable = Field(description="The recess wanted in the work.")
    tools: ToolsTable = Field(description="The bit and the guide bushing.")
    plate: PlateTable = Field(description="The blank the opening is made in.")
    work: WorkTable | None = Field(default=None, description="The stock the cut goes into.")
    tenon: TenonTable | None = Field(default=None, description="Loose tenons for the cut.")
    inlay: Annotated[InlayTable | None, Deferred(InlayTable)] = Field(
        default=None, description="A plug that fills the cut, from the same template."
    )
    fit: FitTable | None = Field(default=None, description="What is known of errors and of the fit wanted.")
    make: MakeTable = Field(default_factory=MakeTable.model_construct, description="What to make.")

    @field_validator("work", "tenon", "inlay")
    @classmethod
    def _is_for_a_recess(cls, table: Any, info: ValidationInfo) -> Any:
        if table is not None and is_outside(info):
            raise own_fault(f'does not go with cut.side = "outside" ({INSTEAD[str(info.field_name)]})')
        return table

    @field_validator("tenon")
    @classmethod
    def _has_a_mortise(cls, tenon: TenonTable | None, info: ValidationInfo) -> TenonTable | None:
        cut = info.data.get("cut")
        if tenon is not None and getattr(cut, "tenon", None) is not None:
            raise own_fault("stands beside cut.tenon (keep one of the two)")
        if tenon is not None and cut is not None and cut.shape not in MORTISES:
            these = ", ".join(map(quoted, MORTISES))
            raise own_fault(
                f"loose tenons are for a mortise ({these}), not for {quoted(cut.shape)} (leave [tenon] out)"
            )
        return tenon

    @field_validator("fit")
    @classmethod
    def _has_something_to_fit(cls, fit: FitTable | None, info: ValidationInfo) -> FitTable | None:
        cut = info.data.get("cut")
        if fit is not None and fit.tenon is not None and cut is not None and cut.shape not in MORTISES:
            these = ", ".join(map(quoted, MORTISES))
            raise own_fault(f"a tenon is for a mortise ({these}), not for {quoted(cut.shape)} (leave fit.tenon out)")
        return fit
