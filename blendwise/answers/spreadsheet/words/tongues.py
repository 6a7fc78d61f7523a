"""What makers write in German, French and Spanish, above a column and in its cells.

Compared as all headings and words are: in lower case, without accents, hyphens and stops.  A heading that is
another word in English stands in ``HOMONYMS`` and is asked back; a word of a cell stands here only where it
has one meaning in a column of a closed set.
"""

from __future__ import annotations

from typing import Final

from blendwise.answers.spreadsheet.words.vocabulary import NAME, REMARK, SIZE, SUPPLIER, TESTED_AT

ASK_THE_OTHER_WAY: Final = (
    *("verblasst", "verfliegt", "verblasst der duft"),
    *("s'estompe", "s estompe", "se desvanece", "pierde aroma"),
)
"""As ``FADES``: "no" is good there."""

HEADINGS_ABROAD: Final[dict[str, tuple[str, ...]]] = {
    NAME: (
        *("duft", "duftname", "duftöl", "bezeichnung", "produkt", "parfümöl", "ätherisches öl", "öl"),
        "duftstoff",
        *("nom", "parfum", "senteur", "produit", "huile", "huile essentielle", "nom du parfum"),
        *("aceite", "fragancia", "aroma", "esencia", "producto", "aceite esencial"),
    ),
    "kind": ("ölart", "art des öls", "produktart", "type d'huile", "tipo", "tipo de aceite"),
    "scent note": ("duftnote", "kopf herz basis", "note olfactive", "nota olfativa"),
    "vanillin": (
        *("vanillingehalt", "vanillin gehalt", "vanilline", "teneur en vanilline", "taux de vanilline"),
        *("vainillina", "vanilina", "contenido de vainillina"),
    ),
    "ethyl vanillin": (
        *("ethylvanillin gehalt", "éthylvanilline", "éthyl vanilline", "etilvainillina"),
        *("etil vainillina",),
    ),
    "browns to": (
        *("verfärbung", "verfärbt", "verfärbt zu", "verfärbt sich", "bräunt", "farbe in der seife"),
        *("décoloration", "décolore", "couleur dans le savon", "brunit", "colore"),
        *("decoloración", "color en el jabón", "oscurece", "se oscurece"),
    ),
    "acceleration": (
        *("beschleunigt", "beschleunigung", "andicken", "dickt an", "verhalten in der seife"),
        *("accélère", "accélération", "accélère la trace", "acelera", "aceleración", "acelera la traza"),
    ),
    "ricing": ("reisbildung", "reiskornbildung", "effet riz", "effet grain de riz", "efecto arroz"),
    "after six weeks": (
        *("nach sechs wochen", "nach 6 wochen", "duftstärke", "duft nach der reifung"),
        *("après six semaines", "après 6 semaines", "tenue", "tenue du parfum"),
        *("después de seis semanas", "después de 6 semanas", "fijación"),
        *ASK_THE_OTHER_WAY,
    ),
    "flash point": (
        *("flammpunkt", "point d'éclair", "point éclair", "punto de inflamación"),
        *("punto de inflamabilidad",),
    ),
    "for skin": (
        *("hautverträglich", "für die haut", "hautgeeignet", "pour la peau", "convient à la peau"),
        *("apto para piel", "apto para la piel", "para la piel"),
    ),
    "limit in bar": (
        *("grenzwert", "höchstmenge", "höchstdosis", "max einsatz", "maximaler einsatz"),
        "maximale einsatzmenge",
        *("ifra grenzwert", "grenzwert in der seife", "höchstwert", "limite", "limite ifra", "dose maximale"),
        *("concentration maximale", "dosis máxima", "límite máximo", "uso máximo", "máximo"),
    ),
    "certificate": (
        *("zertifikat", "ifra zertifikat", "certificat", "certificat ifra", "certificado"),
        *("certificado ifra",),
    ),
    "allergen sheet": ("allergene", "allergènes", "alérgenos"),
    "lot": (
        *("chargennummer", "charge nr", "chargen nr", "charge nummer", "numéro de lot", "n° de lot"),
        *("lote", "número de lote", "nº de lote"),
    ),
    "price": ("preis", "kosten", "prix", "coût", "precio", "coste", "costo"),
    SIZE: ("flaschengröße", "gebindegröße", "contenance", "tamaño", "envase"),
    "on hand": (
        *("bestand", "vorrat", "restmenge", "menge", "en stock", "quantité", "reste", "quantité restante"),
        *("existencias", "cantidad", "en existencia", "cantidad restante"),
    ),
    "bought": (
        *("gekauft", "gekauft am", "kaufdatum", "date d'achat", "acheté", "acheté le"),
        *("fecha de compra", "comprado"),
    ),
    "evidence": ("quelle", "fuente"),
    TESTED_AT: ("getestet bei", "testé à", "probado al"),
    SUPPLIER: (
        *("lieferant", "händler", "hersteller", "gekauft bei", "anbieter", "bezugsquelle"),
        *("fournisseur", "fabricant", "proveedor", "fabricante", "vendedor"),
    ),
    REMARK: (
        *("bemerkung", "bemerkungen", "notizen", "anmerkung", "anmerkungen", "kommentar", "beschreibung"),
        *("lagerort", "haltbar bis", "mhd", "artikelnummer", "remarque", "remarques", "commentaire"),
        "commentaires",
        *("observaciones", "notas", "comentarios", "descripción", "caducidad"),
    ),
    "tags": ("duftfamilie", "duftrichtung", "famille olfactive", "famille", "familia olfativa", "familia"),
}  # fmt: skip
HOMONYMS: Final[dict[str, str]] = {
    "charge": "lot",
    "nombre": NAME,
    "nota": "scent note",
    "art": "kind",
    "marke": SUPPLIER,
    "marque": SUPPLIER,
    "marca": SUPPLIER,
    "haut": "for skin",
    "peau": "for skin",
    "piel": "for skin",
    "rest": "on hand",
    "flacon": SIZE,
    "coloration": "browns to",
    "comportamiento": "acceleration",
    "verhalten": "acceleration",
}
"""Headings that another tongue, or another maker, means otherwise: read so, and asked back."""

CELLS_ABROAD: Final[dict[str, tuple[str, ...]]] = {
    "yes": ("ja", "oui", "si"),
    "no": ("nein", "non", "gar nicht", "pas du tout"),
    "not": ("nicht", "pas"),
    "very": ("sehr", "très", "muy"),
    "hardly": ("kaum", "à peine", "apenas"),
    "sometimes": ("manchmal", "parfois", "a veces"),
    "slow": ("langsam", "lent", "lente", "lentement", "lento", "lenta", "lentamente"),
    "fades": ("verblasst", "verfliegt", "s'estompe", "disparaît", "se desvanece", "desaparece"),
    "holds": ("hält", "haftet", "bleibt", "tient", "reste", "dura", "permanece"),
    "gone": ("verflogen", "weg", "disparu", "desaparecido"),
    "well": ("gut", "bien"),
    "long": ("lang", "lange", "longtemps", "mucho"),
    "yellow": ("gelb", "jaune", "amarillo"),
    "cream": ("creme", "cremefarben", "crema"),
    "ivory": ("elfenbein", "ivoire", "marfil"),
    "beige": ("beis",),
    "chocolate": ("schokolade", "schokobraun", "schokoladenbraun", "chocolat"),
    "caramel": ("karamell", "caramelo"),
    "none": ("keine", "keiner", "kein", "aucun", "aucune", "ninguno", "ninguna", "nichts", "nada", "rien"),
    "slight": (
        *("leicht", "etwas", "ein wenig", "wenig", "gering", "leger", "legere", "un peu", "legerement"),
        *("ligero", "ligera", "leve", "un poco", "poco"),
    ),
    "moderate": ("mäßig", "modere", "moderee", "moderado", "moderada"),
    "medium": ("mittel", "moyen", "moyenne", "medio", "media"),
    "fast": ("schnell", "sehr schnell", "rapide", "tres rapide", "rapido", "rapida", "muy rapido"),
    "strong": ("stark", "fort", "forte", "fuerte", "kräftig"),
    "weak": ("schwach", "faible", "debil"),
    "white": ("weiß", "bleibt weiß", "blanc", "reste blanc", "blanco"),
    "brown": ("braun", "brun", "marron"),
    "light brown": ("hellbraun", "brun clair", "marron claro"),
    "dark brown": ("dunkelbraun", "brun fonce", "marron oscuro"),
    "fragrance oil": (
        *("duftöl", "parfümöl", "huile parfumee", "fragrance synthetique"),
        *("fragancia",),
    ),
    "essential oil": ("ätherisches öl", "ätherisch", "huile essentielle", "aceite esencial"),
    "top": ("kopf", "kopfnote", "tete", "note de tete", "cabeza", "nota de cabeza", "nota de salida"),
    "middle": ("herz", "herznote", "coeur", "note de coeur", "corazon", "nota de corazon"),
    "base": ("basis", "basisnote", "fond", "note de fond", "fondo", "nota de fondo"),
    "unknown": (
        *("unbekannt", "weiß nicht", "keine angabe", "k.a.", "inconnu"),
        *("desconocido", "no se"),
    ),
    "trace": ("spur", "spuren", "traza", "trazas"),
    "no limit": ("kein limit", "kein grenzwert", "unbegrenzt", "pas de limite", "sans limite", "sin limite"),
    "seizes": ("wird sofort fest", "stockt", "zieht sofort an", "fige", "se corta"),
}  # fmt: skip
