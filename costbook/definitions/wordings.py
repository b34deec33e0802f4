"""Other words that people put on their tabs and above their columns, in five languages.

The own titles stand in ``sheets.py``; these are near wordings: English first, then German, French,
Spanish and Italian as shopkeepers there write them (common practice, no source). What is taken by
one of these is listed in To put right. Case, spaces, accents and punctuation don't count, nor
what stands in brackets behind: "Preis (EUR)" is "Preis".
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType
from typing import Final

from costbook.definitions.fields import Field, InputSheet

__all__ = [
    "TOTALS",
    "heading_words",
    "lost_words",
    "tab_words",
]

TOTALS: Final = frozenset(
    {"total", "totals", "subtotal", "grandtotal", "sum", "sums", "average", "averages"}
    | {"gesamt", "gesamtsumme", "summe", "zwischensumme", "totalgeneral", "soustotal", "somme"}
    | {"suma", "totale", "totalegenerale", "subtotale", "totali", "totaux", "totales"}
)
"""Words that begin a row of totals, as ``heading_key`` gives them."""

_TABS: Final[Mapping[str, str]] = {
    "Settings": "Choices; Options; Einstellungen; Réglages; Paramètres; Ajustes; Impostazioni",
    "Purchases": "Purchase log; Receipts; Invoices; Bought; Einkauf; Einkäufe; Belege; Achats; "
    "Factures; Compras; Facturas; Acquisti; Fatture",
    "Items": "Goods; Ingredients; Ingredient list; Artikel; Zutaten; Waren; Ingrédients; "
    "Ingredientes; Ingredienti",
    "Recipes": "Recipe; Recipe lines; Rezepte; Rezept; Recettes; Recetas; Ricette",
    "Batches": "Batch; Batch sizes; Yields; Chargen; Ansätze; Fournées; Lots; Lotes; Hornadas; "
    "Lotti; Infornate",
    "Stages": "Steps; Work; Work steps; Labour; Labor; Timings; Arbeitsschritte; Arbeitszeit; "
    "Étapes; Travail; Etapas; Trabajo; Fasi; Lavoro",
    "Packaging": "Packing; Wrapping; Verpackung; Verpackungen; Emballage; Emballages; Envases; "
    "Embalaje; Imballaggio; Imballaggi; Confezioni",
    "Products": "Product list; What I sell; For sale; Produkte; Produits; Productos; Prodotti",
    "Overheads": "Overhead; Running costs; Fixed costs; Fixkosten; Gemeinkosten; Frais généraux; "
    "Charges fixes; Gastos generales; Costes fijos; Spese generali; Costi fissi",
    "Offers": "Offer; Packs seen; Quotes; Angebote; Offres; Devis; Ofertas; Offerte",
    "Suppliers": "Supplier list; Shops; Vendors; Lieferanten; Fournisseurs; Proveedores; Fornitori",
    "Outlets": "Outlet; Markets; Stalls; Where I sell; Verkaufsstellen; Märkte; Points de vente; "
    "Marchés; Puntos de venta; Mercados; Punti vendita; Mercati",
}

_USABLE: Final = (
    "Usable; Usable percent; Usable share; Usable part; Yield; Yield %; Yield percent; EP; EP %; "
    "AP to EP; Edible portion; Edible portion %; Ready to use %; After trimming; Nutzbar; "
    "Nutzbar %; Ausbeute; Rendement; Utilisable; Aprovechable; Rendimiento; Resa; Utilizzabile"
)
_LOST: Final = (
    "Waste; Waste %; Wasted %; Trim; Trim %; Trimmings; Trimmings %; Loss; Loss %; Lost %; Peel %; "
    "Unusable %; Abfall; Abfall %; Verlust; Verlust %; Perte; Perte %; Pertes %; Merma; Merma %; "
    "Desperdicio %; Scarto; Scarto %"
)
"""Headings above what is thrown away of an item, where the usable share belongs."""
_USES: Final = (
    "Ingredient; Ingredients; Item; Component; What; Zutat; Zutaten; Ingrédient; Ingrédients; "
    "Ingrediente; Ingredientes; Ingredienti"
)
_AMOUNT: Final = (
    "Qty; Quantity; How much; Menge; Anzahl; Quantité; Qté; Cantidad; Quantità; Q.tà; Dose"
)
_UNIT: Final = "UOM; Units; Unit of measure; Measure; Einheit; ME; Unité; Unidad; Unità; U.M."
_NOTE: Final = (
    "Notes; Remark; Remarks; Comment; Comments; Notiz; Bemerkung; Remarque; Nota; Notas; Note"
)
_RECIPE: Final = "Recipe name; For; Dish; Rezept; Recette; Receta; Ricetta"
_PRODUCT: Final = "Product name; Sold as; Produkt; Produit; Producto; Prodotto"
_MARGIN: Final = (
    "Target margin; Margin wanted; Margin %; Zielmarge; Zielmarge %; Marge visée; "
    "Margen deseado; Margine"
)
_PER: Final = "For each; Each; Je; Pro; Par; Por; Per ogni"

_BOUGHT: Final = (
    "Ingredient; Article; Goods; Product; What; Description; Artikel; Zutat; Ware; "
    "Ingrédient; Artículo; Ingrediente; Producto; Articolo; Prodotto"
)
_SUPPLIER: Final = (
    "Shop; Vendor; Store; Seller; Bought from; Where from; Where bought; From; Lieferant; "
    "Händler; Laden; Fournisseur; Magasin; Proveedor; Tienda; Fornitore; Negozio"
)
_PACK_COUNT: Final = (
    "Packs per case; Per case; In a case; Case count; Units per case; Stück je Karton; "
    "Par carton; Por caja; Per cartone"
)
_PACK_SIZE: Final = (
    "Size; Pack; Package size; Pack weight; Weight; Contents; AP size; "
    "As bought; Packungsgröße; Gebindegröße; Inhalt; Contenance; Taille; Contenu; Tamaño; "
    "Contenido; Formato; Contenuto; Grandezza"
)
_PACK_PRICE: Final = (
    "Price; Unit price; Pack price; Price each; Price a pack; Cost; Cost each; Paid each; "
    "Paid per pack; Each cost; AP price; AP cost; "
    "As purchased price; As bought price; Cost per pack; Preis; Preis je Packung; "
    "Stückpreis; Prix; Prix unitaire; Precio; Precio unitario; Prezzo; Prezzo unitario"
)

_HEADINGS: Final[Mapping[str, Mapping[str, str]]] = {
    "Settings": {
        "business": "Business name; Name; Betrieb; Firma; Entreprise; Negocio; Azienda",
        "currency": "Money; Währung; Devise; Monnaie; Moneda; Divisa; Valuta",
        "costing_date": "Costed on; As of; Date; Stichtag; Date de calcul; Fecha; Data",
        "pay_per_hour": "Labour per hour; Labor per hour; Wage per hour; Hourly pay; Hourly wage; "
        "Stundenlohn; Salaire horaire; Sueldo por hora; Paga oraria",
        "on_costs": "Pay on-costs; On-costs; Payroll costs %; Lohnnebenkosten; Charges sociales; "
        "Cargas sociales; Contributi",
        "target_margin": _MARGIN,
        "price_step": "Round prices to; Rounding; Preisstufe; Runden auf; Arrondi; Redondeo; "
        "Arrotondamento",
        "small_ingredient_allowance": "Small ingredients %; Seasoning %; Allowance %; "
        "Kleinzutaten %; Petits ingrédients %; Ingredientes menores %",
        "stale_after_days": "Stale after days; Price age limit; Preise veraltet nach Tagen",
        "sales_tax": "Sales tax; VAT; VAT %; GST; GST %; Tax %; MwSt; MwSt %; USt; TVA; TVA %; "
        "IVA; IVA %",
        "tax_included": "Prices include tax; Prices include VAT; Preise inkl. MwSt; Prix TTC; "
        "IVA incluido; IVA inclusa",
        "kitchen_hire_per_hour": "Kitchen per hour; Kitchen rent per hour; Küche je Stunde; "
        "Cuisine par heure; Cocina por hora; Cucina all'ora",
        "booking_block_minutes": "Booking block minutes; Booked in blocks of minutes",
        "batches_per_year": "Batches a year; Chargen pro Jahr; Lots par an; Lotes por año",
        "yearly_sales_cap": "Sales cap; Yearly cap",
    },
    "Purchases": {
        "day": "Bought; Bought on; Date bought; When; When bought; Purchased; Purchased on; "
        "Date purchased; Purchase date; Date of purchase; Receipt date; Date of receipt; "
        "Invoice date; Paid on; Date paid; Day; Datum; Kaufdatum; Gekauft am; Date d'achat; "
        "Acheté le; Fecha; Fecha de compra; Data; Data d'acquisto",
        "item": _BOUGHT,
        "supplier": _SUPPLIER,
        "packs": "Qty; Quantity; How many; Packs bought; Number of packs; No of packs; "
        "Anzahl; Menge; Packungen; Quantité; Qté; Cantidad; Quantità; Q.tà; Nombre",
        "pack_count": _PACK_COUNT,
        "pack_size": _PACK_SIZE,
        "unit": _UNIT,
        "price_per_pack": _PACK_PRICE,
        "other_cost": "Delivery; Extra cost; Extra costs; Extra; Extras; Other costs; "
        "Deposit; Discount; Lieferkosten; Pfand; Livraison; Consigne; Envío; Otros gastos; "
        "Consegna; Altri costi",
        "note": _NOTE,
    },
    "Items": {
        "item": "Ingredient; Article; Goods; Name; Artikel; Zutat; Ingrédient; Artículo; "
        "Ingrediente; Articolo",
        "item_kind": "Type; Category; Art; Kategorie; Catégorie; Tipo; Categoría; Categoria",
        "usable_share": _USABLE,
        "grams_per_piece": "Weight per piece; Piece weight; g per piece; g each; "
        "Gramm je Stück; Stückgewicht; Grammes par pièce; Gramos por pieza; Grammi al pezzo",
        "grams_per_ml": "Density; g per ml; g/ml; Dichte; Densité; Densidad; Densità",
        "roll_width": "Width; Breite; Rollenbreite; Largeur; Ancho; Larghezza",
        "roll_width_unit": "Width unit",
        "usual_supplier": "Supplier; Main supplier; Usual shop; Lieferant; Stammlieferant; "
        "Fournisseur; Proveedor; Fornitore",
        "on_hand": "In stock; Stock; Bestand; Vorrat; En stock; Existencias; Scorta",
        "on_hand_unit": "Stock unit",
        "par": "Par level; Par stock; Order up to; Sollbestand; Mindestbestand",
        "order_every_days": "Order every; Days between orders; Order interval",
        "comes_after_days": "Comes after; Lead time; Lead time days; Delivery days; Lieferzeit",
        "keeps_days": "Keeps days; Keeps; Haltbar Tage",
        "allergens": "Allergen; Allergene; Allergènes; Alérgenos; Allergeni",
        "also_called": "Other names; Aliases; Auch genannt; Autres noms; Otros nombres; Altri nomi",
        "source": "Sources; Quelle; Fuente; Fonte",
    },
    "Recipes": {
        "recipe": _RECIPE,
        "uses": _USES,
        "amount": _AMOUNT,
        "unit": _UNIT,
        "measured": "AP or EP; AP/EP; AP EP; Measured as; Weighed; Gewogen; Mesuré; Medido; Pesato",
        "usable_share": _USABLE,
        "note": _NOTE,
    },
    "Batches": {
        "recipe": _RECIPE,
        "makes": "Yield; Yields; Batch size; Batch yield; Portions; Servings; Pieces; Ergibt; "
        "Ausbeute; Stück; Portionen; Donne; Pièces; Rinde; Raciones; Piezas; Resa; Porzioni; Pezzi",
        "unit": _UNIT,
        "rejects": "Reject; Rejected; Waste; Broken; Ausschuss; Rebuts; Rechazos; Mermas; Scarti",
        "note": _NOTE,
    },
    "Stages": {
        "recipe": "Recipe or product; Recipe name; For; Rezept; Recette; Receta; Ricetta",
        "stage": "Step; Task; Job; Work; What; Schritt; Arbeitsschritt; Étape; Tâche; Etapa; "
        "Paso; Tarea; Fase; Lavoro",
        "people": "Persons; Hands; Workers; Personen; Leute; Personnes; Personas; Persone",
        "minutes_per_batch": "Minutes; Minutes a batch; Min per batch; Batch minutes; "
        "Labour minutes; Labor minutes; Minuten; Minuten je Charge; Minutes par lot; Minutos; "
        "Minutos por lote; Minuti; Minuti per lotto",
        "minutes_per_unit": "Minutes a unit; Min per unit; Minutes each; Minuten je Stück; "
        "Minutes par pièce; Minutos por unidad; Minuti al pezzo",
        "waiting_minutes": "Waiting; Waiting time; Wait; Wartezeit; Attente; Espera; Attesa",
        "overlap_minutes": "Overlap; Überlappung; Chevauchement; Solape; Sovrapposizione",
        "stage_pay": "Hourly pay; Wage; Pay; Stundenlohn; Salaire horaire; Sueldo por hora; "
        "Paga oraria",
    },
    "Packaging": {
        "product": _PRODUCT,
        "uses": "Item; Package; Packaging; Material; Verpackung; Emballage; Envase; Imballaggio",
        "amount": _AMOUNT,
        "unit": _UNIT,
        "per": _PER,
        "spare": "Spare; Waste %; Extra %; Verschnitt; Verschnitt %; Perte %; Merma %; Scarto %",
    },
    "Products": {
        "product": f"{_PRODUCT}; Name",
        "recipe": "Recipe name; Made from; Made of; Rezept; Recette; Receta; Ricetta",
        "units_per_pack": "Pack of; Pieces per pack; Units; Pack size; Stück je Packung; "
        "Pièces par paquet; Unidades por paquete; Pezzi per confezione",
        "not_sold": "Not sold; Unsold; Unsold %; Given away %; Nicht verkauft %; Invendus %; "
        "No vendido %; Invenduto %",
        "net_weight": "Weight; Nettogewicht; Poids net; Peso neto; Peso netto",
        "net_weight_unit": "Weight unit",
        "current_price": "Price now; Price; Selling price; Preis; Verkaufspreis; Prix; "
        "Prix de vente; Precio; Precio de venta; Prezzo; Prezzo di vendita",
        "wholesale_price_now": "Wholesale price; Trade price; Großhandelspreis; Prix de gros; "
        "Precio mayorista; Prezzo all'ingrosso",
        "product_target_margin": _MARGIN,
    },
    "Overheads": {
        "cost": "What; Name; Overhead; Running cost; Kosten; Frais; Gasto; Spesa; Costo",
        "amount": "Sum; How much; Betrag; Montant; Importe; Importo",
        "period": f"Period; How often; {_PER}",
        "business_share": "Share; Business share; Anteil; Anteil %; Part %; Parte %; Quota %",
    },
    "Offers": {
        "item": _BOUGHT,
        "supplier": _SUPPLIER,
        "pack_count": _PACK_COUNT,
        "pack_size": _PACK_SIZE,
        "unit": _UNIT,
        "price_per_pack": _PACK_PRICE,
        "delivery": "Lieferkosten; Livraison; Envío; Consegna",
        "least_packs": "Minimum; Minimum packs; Minimum order; At least",
        "usable_share": _USABLE,
        "seen_on": "Date; Seen; Day; Datum; Fecha; Data",
        "note": _NOTE,
    },
    "Outlets": {
        "outlet": "Market; Stall; Where; Place; Name; Verkaufsstelle; Markt; Point de vente; "
        "Marché; Punto de venta; Mercado; Punto vendita; Mercato",
        "kind": "Type; Art; Genre; Tipo",
        "fee_per_day": "Fee; Stall fee; Pitch fee; Standgebühr; Droit de place; Tasa; Tariffa",
        "hours_per_day": "Hours; Stunden; Heures; Horas; Ore",
        "miles_per_day": "Miles; Distance",
        "cost_per_mile": "Mile cost; Mileage rate",
        "other_per_day": "Other; Other costs; Sonstiges; Divers; Otros; Altro",
        "units_sold_per_day": "Units sold; Sold per day; Units a day; Verkauft pro Tag; "
        "Vendus par jour; Vendidos por día; Venduti al giorno",
        "days_per_year": "Days a year; Days; Tage im Jahr; Jours par an; Días al año",
        "commission": "Commission; Provision; Provision %; Comisión; Comisión %; Commissione %; "
        "Commissione",
        "card_share": "Card share; Paid by card %; Kartenanteil; Kartenanteil %; Part carte %",
        "card_fee": "Card fee; Kartengebühr; Kartengebühr %; Frais carte %; Comisión tarjeta %",
        "card_fixed_fee": "Fixed card fee; Fee per sale",
        "units_per_sale": "Units a sale; Units each sale",
        "their_margin": "Their margin; Shop margin %; Retail margin %",
        "outlet_target_margin": _MARGIN,
    },
}


def _parted(words: str) -> tuple[str, ...]:
    return tuple(word.strip() for word in words.split(";") if word.strip())


@cache
def tab_words(sheet: InputSheet) -> tuple[str, ...]:
    """Other names for the sheet's tab."""
    return (*sheet.also, *_parted(_TABS.get(sheet.title, "")))


@cache
def heading_words(sheet: InputSheet) -> Mapping[str, tuple[str, ...]]:
    """Other headings for each of the sheet's fields, by the field's name."""
    return MappingProxyType({each.name: _of_field(sheet, each) for each in sheet.fields})


@cache
def lost_words(sheet: InputSheet) -> Mapping[str, tuple[str, ...]]:
    """Headings above the share that is lost, for each field that holds the usable one."""
    shares = (each.name for each in sheet.fields if each.name == "usable_share")
    return MappingProxyType({name: _parted(_LOST) for name in shares})


def _of_field(sheet: InputSheet, field: Field) -> tuple[str, ...]:
    words = _parted(_HEADINGS.get(sheet.title, {}).get(field.name, ""))
    return (*field.also, *words)
