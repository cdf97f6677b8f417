"""Rows of `metals.yaml`, written by `python -m notation.metals`: edit that file, not this one."""

Row = tuple[str, str, str, str, str, str, tuple[str, ...], tuple[str, ...]]

# Name, title, density (g/cm3), tolerance, basis, source, cautions, aliases.
ROWS: tuple[Row, ...] = (
    (
        "aluminium",
        "aluminium",
        "2.70",
        "0.02",
        "tabulated",
        "PNNL-15870, compendium of material composition data: aluminium 2.6989, alloys 6061 2.70, "
        "5086 2.66, 3003 2.73; EN 12524 has 2.80 for aluminium alloys in general.",
        (),
        ("aluminum",),
    ),
    (
        "copper",
        "copper",
        "8.96",
        "0.01",
        "tabulated",
        "PNNL-15870 and the element tables of periodictable 2.1 and mendeleev 1.3: 8.96. Wire "
        "tables after the International Annealed Copper Standard use 8.89.",
        ("stains-skin", "tarnishes"),
        (),
    ),
    (
        "enamelled-copper",
        "enamelled copper",
        "8.96",
        "0.03",
        "computed",
        "Copper, for wire given by its bare diameter; the enamel is not counted. The build of IEC "
        "60317 grades 1 and 2 (0.034 to 0.062 mm on 1 mm, from memory) adds about 1 to 2 % at 1.4 "
        "g/cm3, more on thinner wire.",
        ("coating-wears",),
        ("enameled-copper",),
    ),
    (
        "brass",
        "brass",
        "8.46",
        "0.015",
        "tabulated",
        "For brass of unnamed recipe the middle of the common ones: 8.53 (CuZn30) and 8.39 (C28000, "
        "59 to 63 % copper, alloy database of the Copper Development Association); EN 12524 has "
        "8.40 for brass.",
        ("stains-skin", "tarnishes", "may-hold-lead", "may-release-nickel"),
        (),
    ),
    (
        "brass-cuzn30",
        "brass CuZn30",
        "8.53",
        "0.01",
        "tabulated",
        "AZoM data page for cartridge brass C26000: 8.53; GOST 15527 L68, nearly the same alloy: 8.50.",
        ("stains-skin", "tarnishes"),
        ("cartridge-brass",),
    ),
    (
        "brass-cuzn37",
        "brass CuZn37",
        "8.44",
        "0.01",
        "tabulated",
        "Specific gravity 8.44 for CZ108 (BS 2873, CuZn37) on the data sheets of two producers; it "
        "lies between 8.53 for CuZn30 and 8.39 for C28000.",
        ("stains-skin", "tarnishes"),
        (),
    ),
    (
        "phosphor-bronze",
        "phosphor bronze",
        "8.86",
        "0.01",
        "tabulated",
        "0.320 lb/in3 at 68 F, that is 8.86, for C51000 (CuSn5) on the data sheets of three "
        "producers; general density tables have 8.78 to 8.92 for phosphor bronze.",
        ("stains-skin", "tarnishes"),
        (),
    ),
    (
        "nickel-silver",
        "nickel silver",
        "8.73",
        "0.03",
        "memory",
        "8.73 for CuNi18Zn20 (C75200) is from memory; general density tables have 8.4 to 8.9 for "
        "nickel silver, a data sheet 8.75 for the leaded CuNi18Zn19Pb1.",
        ("releases-nickel", "tarnishes"),
        ("german-silver", "alpaca"),
    ),
    (
        "fine-silver",
        "fine silver",
        "10.50",
        "0.005",
        "tabulated",
        "PNNL-15870 and the element tables of periodictable 2.1 and mendeleev 1.3: 10.50.",
        ("tarnishes",),
        (),
    ),
    (
        "sterling-silver",
        "sterling silver",
        "10.36",
        "0.01",
        "computed",
        "925 parts silver and 75 copper: 10.366. Tables of the trade print 10.2 to 10.4.",
        ("tarnishes",),
        ("sterling",),
    ),
    (
        "germanium-sterling",
        "germanium sterling silver",
        "10.27",
        "0.01",
        "computed",
        "925 parts silver, 12 germanium and 63 copper: 10.269. The 1.2 % germanium is from "
        "Technical Bulletin 2 (2005) of the Goldsmiths' Company. The 935 alloy comes to 10.286.",
        (),
        (),
    ),
    (
        "yellow-gold9k",
        "9 carat yellow gold",
        "11.15",
        "0.03",
        "memory",
        "375 parts gold, 100 silver, 450 copper and 75 zinc: 11.149; this recipe is from memory. "
        "Tables of the trade print 10.9 to 12.7 for 9 carat gold of all recipes.",
        (),
        ("yellow-gold9ct",),
    ),
    (
        "yellow-gold14k",
        "14 carat yellow gold",
        "13.33",
        "0.03",
        "computed",
        "583 parts gold, 104 silver and 313 copper: 13.325; a worked example in print for the same "
        "parts has 13.33. A table of the trade has 13.07 for an alloy with zinc.",
        (),
        ("yellow-gold14ct",),
    ),
    (
        "yellow-gold18k",
        "18 carat yellow gold",
        "15.45",
        "0.03",
        "computed",
        "750 parts gold, 125 silver and 125 copper: 15.452. Tables of the trade print 15.2 to 15.9, "
        "and 15.58 for 750, 160 and 90 parts.",
        (),
        ("yellow-gold18ct",),
    ),
    (
        "gold-filled",
        "14/20 gold-filled brass",
        "8.68",
        "0.03",
        "computed",
        "One twentieth by mass of 14 carat gold (13.07) on CuZn30 (8.53): 8.681. The twentieth is "
        "that of the guide of the US Federal Trade Commission; the core alloy varies from 8.5 to "
        "8.9.",
        ("coating-wears",),
        (),
    ),
    (
        "stainless-steel",
        "stainless steel",
        "8.00",
        "0.015",
        "tabulated",
        "For stainless steel of unnamed grade the value of 304L and 316 in PNNL-15870: 8.00; EN "
        "12524 has 7.90 for austenitic stainless steel.",
        ("hard-to-cut", "may-release-nickel"),
        (),
    ),
    (
        "stainless304",
        "stainless steel 304",
        "8.00",
        "0.015",
        "tabulated",
        "PNNL-15870 revision 2: 304L 8.00, 304 8.03; EN 12524 has 7.90 for austenitic stainless steel.",
        ("hard-to-cut", "may-release-nickel"),
        (),
    ),
    (
        "stainless316",
        "stainless steel 316",
        "8.00",
        "0.015",
        "tabulated",
        "PNNL-15870 revision 2: 316 8.00; EN 12524 has 7.90 for austenitic stainless steel.",
        ("hard-to-cut", "may-release-nickel"),
        ("stainless316l",),
    ),
    (
        "titanium",
        "titanium",
        "4.51",
        "0.01",
        "tabulated",
        "4.507 for alpha titanium at 20 C on a technical data page, 4.506 in the element tables of "
        "mendeleev 1.3 and xraydb; PNNL-15870 and periodictable have the older 4.54.",
        ("hard-to-cut",),
        (),
    ),
    (
        "niobium",
        "niobium",
        "8.57",
        "0.005",
        "tabulated",
        "PNNL-15870 and the element tables of periodictable 2.1 and mendeleev 1.3: 8.57.",
        (),
        (),
    ),
    (
        "epdm-rubber",
        "EPDM rubber",
        "1.15",
        "0.15",
        "tabulated",
        "EN 12524:2000 (the table of ISO 10456): ethylene propylene diene monomer 1150 kg/m3.",
        ("perishes",),
        (),
    ),
    (
        "silicone-rubber",
        "silicone rubber",
        "1.20",
        "0.15",
        "tabulated",
        "EN 12524:2000 (the table of ISO 10456): silicone 1200 kg/m3; PNNL-15870 has 1.02 and quotes 1.12.",
        ("perishes",),
        (),
    ),
)

# A word, and the names it could mean.
UNCLEAR_ROWS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("silver", ("sterling-silver", "fine-silver", "germanium-sterling")),
    ("gold", ("yellow-gold9k", "yellow-gold14k", "yellow-gold18k", "gold-filled")),
    ("bronze", ("phosphor-bronze", "brass")),
    ("steel", ("stainless-steel", "stainless304", "stainless316")),
    ("surgical-steel", ("stainless316", "stainless-steel")),
    ("rubber", ("epdm-rubber", "silicone-rubber")),
)
