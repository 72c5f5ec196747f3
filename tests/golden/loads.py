"""A night's load-out and a branch's material order that the documents are tried with; invented."""

from datetime import date
from decimal import Decimal

from floorcare.findings import Finding
from floorcare.ground.crews.load_out import (
    BranchLoadOut,
    Load,
    LoadMachine,
    LoadOut,
    LoadProduct,
    LoadTool,
    StopLoad,
    summed,
)
from floorcare.ground.schedule.material_order import MaterialOrder, OrderLine, StockDay
from floorcare.ground.trade.equipment import Supply
from floorcare.ground.work.tool_life import ToolRecord, learn_tool_life
from floorcare.services.load_out_sheet import LoadOutSheet
from floorcare.services.order_material import OrderSheet

MONDAY = date(2026, 3, 2)
CLEANER = LoadProduct(
    material="neutral_cleaner",
    name="neutral cleaner, 1 part to 128 of water",
    litres=0.5,
    water_l=64.0,
    mixed="1:128, parts to parts",
    estimate=True,
    pack_l=10.0,
)
FIRST = StopLoad(
    visit="1",
    site="MARKET",
    site_name="Market <Hall> East",
    zones=("LANE", "DOOR"),
    load=Load(
        machines=(LoadMachine(code="SC-1", kind="scrubber", name="Scrubber"),),
        tools=(LoadTool(tool="white_pad", name="white pad", pieces=1, share=0.25),),
        products=(CLEANER,),
        recover_l=64.5,
    ),
)
SECOND = StopLoad(
    visit="2",
    site="CLINIC",
    site_name="Linden Clinic",
    zones=("WARD",),
    load=Load(
        machines=(LoadMachine(code="", kind="rotary", name="floor machine"),),
        tools=(LoadTool(tool="resin_800", name="800-grit resin", pieces=3, share=None, heads=3),),
        recover_l=10.0,
        unmeasured=("CLINIC/WARD",),
    ),
)
NIGHT = LoadOut(
    crew="A",
    name="First van",
    on=MONDAY,
    people=2,
    load=summed((FIRST.load, SECOND.load)),
    tank_l=64.5,
    protection=("eye_cover", "wet_gloves"),
    papers=("visit_list", "data_sheets"),
    site_papers=(("CLINIC", "night permit"),),
    stops=(FIRST, SECOND),
)
LOADED = LoadOutSheet(
    branch="Riverside",
    branch_code="EAST",
    starts_on=MONDAY,
    nights=(NIGHT,),
    week=BranchLoadOut(branch="EAST", starts_on=MONDAY, nights=(NIGHT,), load=NIGHT.load),
    as_of="the plan of 1 March 2026",
)

SUPPLY = Supply(branch="EAST", material="protector", pack=10.0, lead_days=7, reserve=5.0)
LATE = OrderLine(
    material="protector",
    name="protector <thin>",
    unit="L",
    supply=SUPPLY,
    held=6.0,
    used=9.0,
    left=-3.0,
    last_on=date(2026, 4, 6),
    today=MONDAY,
    short_on=date(2026, 3, 3),
    order_by=date(2026, 2, 23),
    packs=1,
    price=Decimal("21.90"),
    amount=Decimal("219.00"),
    estimate=True,
    days=(StockDay(on=date(2026, 3, 3), used=9.0, held=-3.0),),
)
ENOUGH = OrderLine(
    material="white_pad",
    name="white pad",
    unit="pieces",
    supply=Supply(branch="EAST", material="white_pad", pack=5.0, unit="pieces", reserve=2.0),
    held=20.0,
    used=1.26,
    left=18.74,
    last_on=date(2026, 3, 30),
    today=MONDAY,
)
ORDERED = OrderSheet(
    branch="Riverside",
    branch_code="EAST",
    units="metric",
    order=MaterialOrder(
        branch="EAST",
        today=MONDAY,
        weeks=4,
        currency="EUR",
        lines=(LATE, ENOUGH),
        findings=(
            Finding(
                problem="nobody said how it is bought",
                file="supplies.csv",
                value="=sealer",
                mend="add a row",
                weight="asks",
            ),
        ),
    ),
    lives=(learn_tool_life("white_pad", 1000.0, ToolRecord(sets=3, worked_m2=6000.0)),),
    as_of="the plan of 1 March 2026",
)
