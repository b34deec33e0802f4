"""Every sheet and column that a person fills in, left to right.

The reader, the blank workbook, the checks and the manual all walk this list.
"""

from __future__ import annotations

from decimal import Decimal
from typing import Final

from costbook.definitions.fields import Choice, Field, InputSheet, Kind, Least

__all__ = [
    "EVERYWHERE",
    "EVERY_PRODUCT",
    "EVERY_PRODUCT_TOO",
    "INPUT_SHEETS",
    "OVERHEADS",
    "SHEETS",
]

EVERY_PRODUCT: Final = "all"
"""What a packaging line names as its product to serve every one."""
EVERY_PRODUCT_TOO: Final = (
    *("all products", "all of them", "all packs", "any product", "each product", "every one"),
    *("every product", "everyone", "everything", "each", "every", "any"),
)
"""Other words for it."""
EVERYWHERE: Final = ("everywhere", "anywhere", "all", "all outlets", "every outlet", "all of them")
"""What a product's outlets may be called where that is all of them."""

_YES_NO = (
    Choice("yes", ("y", "true", "1", "ja", "oui", "si", "sí")),
    Choice("no", ("n", "false", "0", "nein", "non")),
)
_MEASURED = (
    Choice("as bought", ("ap", "bought", "as purchased", "untrimmed")),
    Choice("ready to use", ("ep", "ready", "edible", "trimmed", "clean", "usable")),
)
_NOT_LEGAL = "Your own entry; not a tax or legal figure."


def _text(name: str, title: str, note: str = "", **more: object) -> Field:
    return Field(name, title, Kind.TEXT, note, **more)  # type: ignore[arg-type]  # passed through


def _name(name: str, title: str, note: str = "", **more: object) -> Field:
    return Field(name, title, Kind.NAME, note, **more)  # type: ignore[arg-type]  # passed through


def _number(name: str, title: str, note: str = "", **more: object) -> Field:
    return Field(name, title, Kind.NUMBER, note, **more)  # type: ignore[arg-type]  # passed through


def _money(name: str, title: str, note: str = "", **more: object) -> Field:
    return Field(name, title, Kind.MONEY, note, **more)  # type: ignore[arg-type]  # passed through


def _share(name: str, title: str, note: str = "", **more: object) -> Field:
    return Field(name, title, Kind.SHARE, note, **more)  # type: ignore[arg-type]  # passed through


def _unit(name: str, title: str, note: str = "", **more: object) -> Field:
    return Field(name, title, Kind.UNIT, note, **more)  # type: ignore[arg-type]  # passed through


def _choice(name: str, title: str, choices: tuple[Choice, ...], note: str, **more: object) -> Field:
    return Field(name, title, Kind.CHOICE, note, choices=choices, **more)  # type: ignore[arg-type]


_USABLE = _share(
    "usable_share",
    "Usable %",
    "What is left after trimming, of what was bought. Blank: all of it. 89 and 0.89 are both 89 %.",
    limit=Decimal(5),
    least=Least.ABOVE_ZERO,
    also=("Usable", "Usable share", "Yield", "Yield %", "EP %", "Edible portion %"),
)


def _none_to_pay(name: str, title: str) -> Field:
    note = "yes, if that is so. Till then it is missing, and prices are the least to ask."
    return _choice(name, title, _YES_NO, note)


SETTINGS = InputSheet(
    "Settings",
    "one choice",
    (
        _text("business", "Business", "The name on the sheets.", example="Our stall"),
        _text("address", "Address", "As it is to stand on labels, on one line."),
        _text("currency", "Currency", "Three letters, as on a bank statement.", example="USD"),
        Field("costing_date", "Costing date", Kind.DATE, "Blank: today."),
        _money(
            "pay_per_hour",
            "Pay per hour",
            f"What an hour of your own or of a helper's work is to be paid. {_NOT_LEGAL}",
            example=15,
            also=("Labour per hour", "Wage per hour", "Hourly pay"),
        ),
        _share("on_costs", "Pay on-costs %", f"What comes on top of pay. {_NOT_LEGAL}"),
        _share(
            "target_margin",
            "Target margin %",
            "What is to be left of a price after all cost.",
            example=0.35,
            also=("Target margin", "Margin %"),
        ),
        _money(
            "price_step",
            "Price step",
            "Prices go up to the next step of this. Blank: the smallest coin.",
            least=Least.ABOVE_ZERO,
            example=0.5,
        ),
        _share(
            "small_ingredient_allowance",
            "Small-ingredient allowance %",
            "On top of bought ingredients, for salt, pepper and the like.",
            example=0.02,
        ),
        _number(
            "stale_after_days",
            "Prices stale after days",
            "Older prices are pointed out.",
            example=30,
        ),
        _share("sales_tax", "Sales tax %", _NOT_LEGAL),
        _choice(
            "tax_included",
            "Prices include sales tax",
            _YES_NO,
            "yes or no.",
            example="no",
        ),
        _money(
            "kitchen_hire_per_hour",
            "Kitchen hire per hour",
            "Blank: the kitchen isn't counted, see No kitchen to pay.",
        ),
        _number(
            "booking_block_minutes",
            "Kitchen booking block minutes",
            "Hire is counted in whole blocks of this. Blank: by the minute.",
        ),
        _number(
            "batches_per_year",
            "Batches per year",
            "Batches of what is sold, not of recipes used inside others.",
            least=Least.ABOVE_ZERO,
        ),
        _none_to_pay("no_kitchen", "No kitchen to pay"),
        _none_to_pay("no_overheads", "No overheads"),
        _none_to_pay("no_selling_costs", "No selling costs"),
        _money("yearly_sales_cap", "Yearly sales cap", _NOT_LEGAL),
        _text("year_begins", "Year begins", "The month your tax year begins in. Blank: January."),
        _number(
            "minutes_there",
            "Minutes I have",
            "For the work of one plan. Stages with a pay of their own aren't counted.",
        ),
        _number("freezer_holds", "Freezer holds packs", "How many packs it has room for in all."),
    ),
    upright=True,
)

PURCHASES = InputSheet(
    "Purchases",
    "one receipt line",
    (
        Field(
            "day", "Date", Kind.DATE, "The day on the receipt.", needed=True, example="2026-01-05"
        ),
        _name(
            "item",
            "Item",
            "What was bought, always by the same name.",
            needed=True,
            example="Flour (example)",
            also=("Ingredient", "Article", "Goods"),
        ),
        _name("supplier", "Supplier", "Who sold it.", example="Mill Lane", also=("Shop", "Vendor")),
        _number(
            "packs",
            "Packs",
            "How many packs. Blank: 1. Minus for a return.",
            least=Least.ANY,
            example=2,
            also=("Qty", "Quantity", "Packs bought"),
        ),
        _number(
            "pack_count",
            "Pack count",
            "A case of 6 bags: 6. Blank: 1.",
            least=Least.ABOVE_ZERO,
        ),
        Field(
            "pack_size",
            "Pack size",
            Kind.SIZE,
            "What one pack (of a case: one of its packs) holds.",
            least=Least.ABOVE_ZERO,
            goes_with=("unit", "pack_count"),
            needed=True,
            example=5,
            also=("Size", "Pack", "Package size"),
        ),
        _unit("unit", "Unit", "g, kg, oz, lb, ml, l, ct, dozen …", example="lb", also=("UOM",)),
        _money(
            "price_per_pack",
            "Price per pack",
            "What one pack (or one whole case) costs.",
            least=Least.ANY,
            goes_with=("pack_size", "unit", "pack_count"),
            needed=True,
            example=4.2,
            also=("Price", "Unit price", "Cost", "Price each"),
        ),
        _money(
            "other_cost",
            "Other cost",
            "For the whole line: delivery, deposit; minus a discount.",
            least=Least.ANY,
            also=("Delivery", "Extra cost"),
        ),
        _text("note", "Note", "For yourself.", also=("Notes", "Remark")),
    ),
    needed=True,
    spare_rows=200,
)

ITEMS = InputSheet(
    "Items",
    "what is bought, and the bridges between kinds of unit",
    (
        _name("item", "Item", "As on Purchases.", needed=True, example="Flour (example)"),
        _text("item_kind", "Kind", "ingredient, packaging …", example="ingredient"),
        _USABLE,
        _number(
            "grams_per_piece",
            "Grams per piece",
            "One piece as bought: an egg in its shell.",
            least=Least.ABOVE_ZERO,
        ),
        _number(
            "grams_per_ml",
            "Grams per ml",
            "As the recipe measures it.",
            least=Least.ABOVE_ZERO,
            also=("Density", "g per ml"),
        ),
        _number(
            "roll_width",
            "Roll width",
            "Makes an area of a length.",
            least=Least.ABOVE_ZERO,
            goes_with=("roll_width_unit",),
        ),
        _unit("roll_width_unit", "Roll width unit", "in, cm …"),
        _name("usual_supplier", "Usual supplier", "Whose price counts. Blank: anybody's latest."),
        _number("on_hand", "On hand", "What you have. Blank: none.", goes_with=("on_hand_unit",)),
        _unit("on_hand_unit", "On hand unit", ""),
        _number(
            "par",
            "Par",
            "What is to be there, so that you order up to it; with Order every days, what you use "
            "in a day.",
            goes_with=("par_unit",),
        ),
        _unit("par_unit", "Par unit", ""),
        _number("order_every_days", "Order every days", "How many days from order to order."),
        _number("comes_after_days", "Comes after days", "How many days till an order is there."),
        _number(
            "keeps_days",
            "Keeps days (your figure, not a safe storage life)",
            "Your figure, not a safe storage life.",
            also=("Keeps days",),
        ),
        _number(
            "use_per_week",
            "Use per week",
            "How much of it you use, in the on-hand unit. Blank: from Batches per year, else from "
            "what the outlets sell.",
            goes_with=("on_hand_unit",),
        ),
        _text("allergens", "Allergens", "As the pack says. A blank means unknown, never none."),
        _text(
            "label_name",
            "Label name",
            "The words for it on a label, with what is in it: cheddar (milk, salt).",
        ),
        _text("also_called", "Also called", "Other names for it, with ; between."),
        _text("source", "Source", "Where the figures of this row come from."),
    ),
)

RECIPES = InputSheet(
    "Recipes",
    "one line of a batch",
    (
        _name(
            "recipe",
            "Recipe",
            "The same name on each of its lines.",
            needed=True,
            example="Plain roll (example)",
        ),
        _name(
            "uses",
            "Uses",
            "An item, or another recipe.",
            needed=True,
            example="Flour (example)",
            also=("Ingredient", "Item", "Component"),
        ),
        Field(
            "amount",
            "Amount",
            Kind.AMOUNT,
            "For one batch.",
            goes_with=("unit",),
            needed=True,
            example=900,
            also=("Qty", "Quantity"),
        ),
        _unit("unit", "Unit", "g, oz, cup, ea …", example="g", also=("UOM",)),
        _choice(
            "measured",
            "Measured",
            _MEASURED,
            "as bought, or ready to use. Blank: ready to use, but as bought for pieces.",
            example="ready to use",
            also=("AP or EP", "AP/EP"),
        ),
        _USABLE,
        _text("note", "Note", "For yourself.", also=("Notes",)),
    ),
    needed=True,
)

BATCHES = InputSheet(
    "Batches",
    "what one batch of a recipe starts",
    (
        _name("recipe", "Recipe", "As on Recipes.", needed=True, example="Plain roll (example)"),
        Field(
            "makes",
            "Makes",
            Kind.AMOUNT,
            "How many units, or how much, one batch starts.",
            least=Least.ABOVE_ZERO,
            goes_with=("unit",),
            needed=True,
            example=24,
            also=("Yield", "Batch size", "Portions"),
        ),
        _unit("unit", "Unit", "ea, kg, l …", example="ea", also=("UOM",)),
        _number(
            "rejects",
            "Rejects",
            "Of those, how many can't be sold: pieces, or as much in its unit; or 4 % of them.",
            example=1,
            or_share=True,
        ),
        _number(
            "smallest_part",
            "Smallest part",
            "Of a batch that can be made: 0.5 is half a batch. Blank: 1, whole batches.",
            least=Least.ABOVE_ZERO,
        ),
        _choice(
            "own_batches",
            "Own batches",
            _YES_NO,
            "yes: used in others, it is made in batches of its own. Blank: in proportion.",
        ),
        _text("note", "Note", "For yourself.", also=("Notes",)),
    ),
    needed=True,
)

_PAY = _money("stage_pay", "Pay per hour", "For this stage. Blank: as on Settings.")

STAGES = InputSheet(
    "Stages",
    "one step of the work",
    (
        _name(
            "recipe",
            "Recipe",
            "A recipe, or a product for work on its packs.",
            needed=True,
            example="Plain roll (example)",
            also=("Recipe or product",),
        ),
        _text("stage", "Stage", "What is done.", needed=True, example="Prepare the filling"),
        _number("people", "People", "At it together. Blank: 1.", example=1),
        _number(
            "minutes_per_batch",
            "Minutes per batch",
            "By the clock, with all its people at it. Time one batch, and type what it took.",
        ),
        _number(
            "minutes_per_unit",
            "Minutes per unit",
            "For each unit started (a product: each pack).",
        ),
        _number(
            "waiting_minutes",
            "Waiting minutes",
            "Counts for the kitchen's clock; isn't paid.",
            also=("Waiting",),
        ),
        _number(
            "overlap_minutes",
            "Overlap minutes",
            "Of its clock time, what runs beside another stage.",
            also=("Overlap",),
        ),
        _PAY,
        _choice(
            "once_a_session",
            "Once a session",
            _YES_NO,
            "yes: a set-up or clean-down that the batches of one session share.",
        ),
    ),
    priced=True,
    more_examples=((("stage", "Fill and wrap"),), (("stage", "Pack and label"),)),
)

PACKAGING = InputSheet(
    "Packaging",
    "film, foil, bag, label",
    (
        _name(
            "product",
            "Product",
            "As on Products; all: every product.",
            needed=True,
            example="Plain roll, single (example)",
        ),
        _name(
            "uses",
            "Uses",
            "An item.",
            needed=True,
            example="Film (example)",
            also=("Item", "Package"),
        ),
        Field(
            "amount",
            "Amount",
            Kind.AMOUNT,
            "Each time.",
            goes_with=("unit",),
            needed=True,
            example=14,
            also=("Qty", "Quantity"),
        ),
        _unit("unit", "Unit", "in, cm, ea …", example="in", also=("UOM",)),
        _choice(
            "per",
            "Per",
            (
                Choice("unit", ("units", "each", "piece", "roll", "ea")),
                Choice("pack", ("packs", "bag")),
                Choice("batch", ("batches",)),
            ),
            "unit, pack or batch.",
            example="unit",
            needed=True,
        ),
        _share("spare", "Spare %", "On top, for what is torn or spoiled.", example=0.03),
    ),
    priced=True,
)

PRODUCTS = InputSheet(
    "Products",
    "what is sold",
    (
        _name(
            "product",
            "Product",
            "A single, a pack of six.",
            needed=True,
            example="Plain roll, single (example)",
        ),
        _name("recipe", "Recipe", "As on Recipes.", needed=True, example="Plain roll (example)"),
        Field(
            "units_per_pack",
            "Units per pack",
            Kind.SIZE,
            "Units of the batch in one pack. Of a batch by weight or volume: 250 g, or 6 x 150 g.",
            least=Least.ABOVE_ZERO,
            needed=True,
            example=1,
            also=("Pack of",),
        ),
        _share(
            "not_sold",
            "Not sold %",
            "Of the good ones: sampled, given, spoiled.",
            example=0.05,
            also=("Not sold", "Unsold %"),
        ),
        _number(
            "net_weight",
            "Net weight",
            "For the label. Of a batch by weight or volume, also what one pack holds.",
            goes_with=("net_weight_unit",),
        ),
        _unit("net_weight_unit", "Net weight unit", ""),
        _money(
            "current_price",
            "Current price",
            "What you charge now.",
            example=4,
            also=("Price now", "Price"),
        ),
        _money(
            "wholesale_price_now",
            "Wholesale price now",
            "What a café pays you now.",
            also=("Wholesale price",),
        ),
        _share(
            "product_target_margin",
            "Target margin %",
            "For this product. Blank: as on Settings.",
            also=("Target margin",),
        ),
        _text(
            "sold_at",
            "Sold at",
            "The outlets where it is sold, as on Outlets, with a comma between. Blank: everywhere.",
            also=("Outlets", "Outlet"),
        ),
    ),
    needed=True,
)

OVERHEADS = InputSheet(
    "Overheads",
    "one running cost",
    (
        _text("cost", "Cost", "What it is for.", needed=True, example="Insurance (example)"),
        _money("amount", "Amount", "", needed=True, example=240, goes_with=("period",)),
        _choice(
            "period",
            "Per",
            (
                Choice("year", ("yearly", "annual", "a year")),
                Choice("month", ("monthly", "a month")),
                Choice("batch", ("a batch",)),
                Choice("market day", ("day", "market", "market days", "stall day")),
            ),
            "year, month, batch or market day.",
            needed=True,
            example="year",
        ),
        _share(
            "business_share", "Share %", "The business's part of it. Blank: all.", also=("Share",)
        ),
    ),
)

OUTLETS = InputSheet(
    "Outlets",
    "where you sell",
    (
        _name("outlet", "Outlet", "", needed=True, example="Saturday market (example)"),
        _choice(
            "kind",
            "Kind",
            (
                Choice("stall", ("market", "market stall")),
                Choice("wholesale", ("café", "cafe")),
                Choice("commission", ("on commission",)),
            ),
            "stall (or blank), wholesale or commission.",
            example="stall",
        ),
        _money("fee_per_day", "Fee per day", "Pitch or table.", example=30),
        _number(
            "hours_per_day",
            "Hours per day",
            "Person-hours of selling, setting up, driving.",
            example=6,
        ),
        _number("miles_per_day", "Miles per day", "There and back."),
        _money("cost_per_mile", "Cost per mile", _NOT_LEGAL),
        _money("other_per_day", "Other per day", "Ice, change, napkins."),
        _number(
            "units_sold_per_day",
            "Units sold per day",
            "Singles; a pack of six is six.",
            least=Least.ABOVE_ZERO,
            example=60,
        ),
        _number("days_per_year", "Days per year", ""),
        _share("commission", "Commission %", "Of the price without tax."),
        _share("card_share", "Card share %", "Part of your takings paid by card."),
        _share("card_fee", "Card fee %", "Of what is paid by card."),
        _money("card_fixed_fee", "Card fixed fee", "For each card sale."),
        _number("units_per_sale", "Units per sale", "Blank: 1.", least=Least.ABOVE_ZERO),
        _share("their_margin", "Their margin %", "What a café adds for itself."),
        _share(
            "outlet_target_margin",
            "Target margin %",
            "Here. Blank: the product's.",
            also=("Target margin",),
        ),
    ),
)

OFFERS = InputSheet(
    "Offers",
    "one pack seen and not bought",
    (
        _name("item", "Item", "As on Purchases.", needed=True, example="Flour (example)"),
        _name(
            "supplier", "Supplier", "Who offers it.", example="Mill Lane", also=("Shop", "Vendor")
        ),
        _number(
            "pack_count", "Pack count", "A case of 6 bags: 6. Blank: 1.", least=Least.ABOVE_ZERO
        ),
        Field(
            "pack_size",
            "Pack size",
            Kind.SIZE,
            "What one pack (of a case: one of its packs) holds.",
            least=Least.ABOVE_ZERO,
            goes_with=("unit", "pack_count"),
            needed=True,
            example=25,
            also=("Size", "Pack"),
        ),
        _unit("unit", "Unit", "g, kg, oz, lb, ml, l, ct, dozen …", example="lb"),
        _money(
            "price_per_pack",
            "Price per pack",
            "What one pack (or one whole case) costs.",
            least=Least.ABOVE_ZERO,
            goes_with=("pack_size", "unit", "pack_count"),
            needed=True,
            example=17.5,
            also=("Price",),
        ),
        _money("delivery", "Delivery", "For one order of the least packs."),
        _number(
            "least_packs",
            "Least packs",
            "How many must be taken at once. Blank: 1.",
            least=Least.ABOVE_ZERO,
        ),
        _USABLE,
        Field("seen_on", "Seen on", Kind.DATE, "The day you saw it.", example="2026-01-05"),
        _text("note", "Note", "For yourself.", also=("Notes",)),
    ),
)

SUPPLIERS = InputSheet(
    "Suppliers",
    "what buying from one supplier costs beside its prices",
    (
        _name(
            "supplier", "Supplier", "As on Purchases.", needed=True, example="Mill Lane (example)"
        ),
        _money("membership", "Membership per year", "", example=60),
        _money("trip_cost", "Trip cost", "Fuel and the like, for one trip.", example=8),
        _number("trips_per_year", "Trips per year", "", example=24),
        _money("least_order", "Least order", "The smallest order they take."),
    ),
)

MARKET_DAYS = InputSheet(
    "Market days",
    "one day at an outlet",
    (
        Field(
            "day", "Date", Kind.DATE, "The day of the market.", needed=True, example="2026-01-10"
        ),
        _name(
            "outlet",
            "Outlet",
            "As on Outlets.",
            needed=True,
            example="Saturday market (example)",
            also=("Market", "Stall", "Where"),
        ),
        _number(
            "hours",
            "Hours",
            "Your own person-hours that day, without the kitchen: two of you for 5 hours are 10.",
            example=6,
            also=("Own hours", "Hours there"),
        ),
        _money(
            "float_cash",
            "Float",
            "In the cash box before the first sale. 0 if it was taken out before you counted.",
            example=50,
            also=("Change float", "Cash at the start"),
        ),
        _money(
            "cash_counted",
            "Cash counted",
            "In the cash box at the end. 0 if nobody paid in cash.",
            example=310,
            also=("Cash at the end", "Cash"),
        ),
        _money(
            "cash_paid_out",
            "Cash paid out",
            "Taken out of the cash box during the day. Blank: nothing.",
            also=("Paid out",),
        ),
        _money(
            "card_takings",
            "Card takings",
            "What people paid by card. 0 if nobody did.",
            example=240,
            also=("Cards", "Card sales"),
        ),
        _money(
            "card_payout",
            "Card payout",
            "What reached your account of it. Blank: the outlet's card fees are taken off.",
        ),
        _money("fee_paid", "Fee paid", "Pitch or table. Blank: as on Outlets.", also=("Fee",)),
        _number("miles", "Miles", "There and back. Blank: as on Outlets."),
        _money(
            "other_paid",
            "Other paid",
            "Ice, napkins, parking. Blank: as on Outlets.",
            also=("Other",),
        ),
        _text("weather", "Weather", "In your own words: sun, showers, windy."),
        _text("note", "Note", "For yourself.", also=("Notes", "Remark", "What happened")),
    ),
    spare_rows=30,
)

SALES = InputSheet(
    "Sales",
    "one product on one market day",
    (
        Field("day", "Date", Kind.DATE, "As on Market days.", needed=True, example="2026-01-10"),
        _name(
            "outlet",
            "Outlet",
            "As on Market days.",
            example="Saturday market (example)",
            also=("Market", "Stall", "Where"),
        ),
        _name(
            "product",
            "Product",
            "As on Products.",
            needed=True,
            example="Plain roll, single (example)",
        ),
        _number("taken", "Taken", "Packs that you took along.", example=40, also=("Brought",)),
        _number("sold", "Sold", "Packs sold; 0 if none.", example=34, also=("Packs sold",)),
        _number("sampled", "Sampled", "Packs cut up or given away. Blank: none.", also=("Given",)),
        _number(
            "spoiled",
            "Spoiled",
            "Packs thrown away. Blank: none. What came home again is stock, and no loss.",
            also=("Thrown away", "Wasted"),
        ),
        _money(
            "price",
            "Price",
            "What a pack was sold at that day. Blank: its price now, on Products.",
            also=("Price each",),
        ),
        _text("note", "Note", "For yourself.", also=("Notes", "Remark")),
    ),
    spare_rows=100,
)

PLAN = InputSheet(
    "Plan",
    "packs of one product that are wanted",
    (
        _name(
            "product",
            "Product",
            "As on Products.",
            needed=True,
            example="Plain roll, single (example)",
        ),
        _number(
            "wanted",
            "Wanted",
            "Packs that are to be there.",
            needed=True,
            example=40,
            also=("Packs wanted", "How many"),
        ),
        _text("wanted_for", "For", "A day, an outlet or any words.", example="Saturday"),
        _number(
            "batches",
            "Batches",
            "Of its recipe, if you choose yourself. Blank: as many as it takes.",
        ),
        _text("note", "Note", "For yourself.", also=("Notes",)),
    ),
    spare_rows=50,
)

MADE = InputSheet(
    "Made",
    "packs put into the freezer",
    (
        Field(
            "day", "Date", Kind.DATE, "The day they were made.", needed=True, example="2026-01-05"
        ),
        _name(
            "product",
            "Product",
            "As on Products.",
            needed=True,
            example="Plain roll, single (example)",
        ),
        _number("packs", "Packs", "Good packs put into the freezer.", needed=True, example=22),
        _number("rejects", "Rejects", "Units of it that can't be sold; blank: not counted."),
        _number("minutes", "Minutes", "Of everybody's work on them, added up."),
        _text("batch_code", "Batch code", "As on the label.", example="26005"),
        Field("use_by", "Use by", Kind.DATE, "The date on the label: yours, no advice of ours."),
        _text("note", "Note", "For yourself.", also=("Notes", "Remark")),
    ),
    spare_rows=100,
)

COUNTS = InputSheet(
    "Counts",
    "one thing counted on one day",
    (
        Field(
            "day",
            "Date",
            Kind.DATE,
            "In the evening: what was made or sold that day is in it.",
            needed=True,
            example="2026-01-31",
        ),
        _name(
            "what",
            "What",
            "A product, in packs; or an item.",
            needed=True,
            example="Plain roll, single (example)",
            also=("Counted", "Product or item"),
        ),
        Field(
            "amount",
            "Amount",
            Kind.AMOUNT,
            "How much is there.",
            goes_with=("unit",),
            needed=True,
            example=18,
            also=("Qty", "Quantity", "Packs"),
        ),
        _unit("unit", "Unit", "Of an item: g, kg, ct … Of a product: blank.", also=("UOM",)),
        _text("note", "Note", "For yourself.", also=("Notes", "Remark")),
    ),
    spare_rows=50,
)

TESTS = InputSheet(
    "Tests",
    "one thing weighed or timed",
    (
        Field("day", "Date", Kind.DATE, "The day of the test.", example="2026-01-05"),
        _name(
            "what",
            "What",
            "yield: an item, as on Purchases; time: a stage, as on Stages.",
            needed=True,
            example="Fill and wrap (example)",
            also=("Tested",),
        ),
        _choice(
            "test_kind",
            "Kind",
            (
                Choice("yield", ("yields", "weighed", "trimming")),
                Choice("time", ("timed", "times", "minutes")),
            ),
            "yield: weighed before and after; time: minutes for so many units.",
            needed=True,
            example="time",
        ),
        _number("weighed_in", "In", "yield: as bought.", least=Least.ABOVE_ZERO),
        _number("weighed_out", "Out", "yield: what is left, in the same unit."),
        _unit("unit", "Unit", "Of In and Out: g, oz …", also=("UOM",)),
        _number("minutes", "Minutes", "time: by the clock, with all its people at it.", example=30),
        _number(
            "units", "Units", "time: done in these minutes.", least=Least.ABOVE_ZERO, example=24
        ),
        _text("note", "Note", "For yourself.", also=("Notes", "Remark")),
    ),
    spare_rows=30,
)

SHEETS: Final = (
    SETTINGS,
    PURCHASES,
    ITEMS,
    RECIPES,
    BATCHES,
    STAGES,
    PACKAGING,
    PRODUCTS,
    OVERHEADS,
    OUTLETS,
    OFFERS,
    SUPPLIERS,
    PLAN,
    MARKET_DAYS,
    SALES,
    MADE,
    COUNTS,
    TESTS,
)
INPUT_SHEETS: Final = {sheet.title: sheet for sheet in SHEETS}
