"""Laws that the tables of the cabinet obey; what each is checked against stands in tests/published."""

from ht.insulation import Cp_material, k_material, rho_material

from ohmstead.tables.reader import numbers, rows, words


def test_surface_factors_fall_when_covered():
    factor = {(r["face"], r["stands"]): r["factor"] for r in rows("enclosure_surface")}
    assert all(factor[face, "covered"] <= factor[face, "free"] for face in ("top", "side", "bottom"))
    assert factor["top", "free"] > factor["side", "free"] > factor["bottom", "free"] == 0.0


def test_finishes_are_shares_and_darker_takes_more():
    alpha = dict(zip(words("finishes", "finish"), numbers("finishes", "absorptance"), strict=True))
    assert all(0.0 < x < 1.0 for column in ("absorptance", "emissivity") for x in numbers("finishes", column))
    greys = [alpha[name] for name in ("white gloss", "light grey", "medium grey", "dark grey", "black")]
    assert greys == sorted(greys)
    bare = {r["finish"]: r["emissivity"] for r in rows("finishes")}
    assert all(bare[m] < 0.5 for m in ("aluminium paint", "new galvanised", "aged galvanised", "bare aluminium"))


def test_better_mats_hold_more_and_cost_more():
    for column in ("arrestance_fraction", "clean_pa"):
        values = numbers("filter_mats", column)
        assert values == sorted(values)


def test_film_figures_by_material():
    film = dict(zip(words("enclosure_film", "material"), numbers("enclosure_film", "film_w_per_m2_k"), strict=True))
    assert film["aluminium"] > film["painted steel"] > film["stainless steel"] > film["plastic"]


LIKE = {
    "steel": "Metals, steel",
    "stainless steel": "Metals, stainless steel",
    "aluminium": "Metals, aluminium alloys",
    "polycarbonate": "Plastics, polycarbonates",
}


def test_walls_against_a_second_collection(outside):
    """Building materials of a standard's list as a general library keeps them; alloys differ by a quarter."""
    worst = 0.0
    for row in rows("walls"):
        if row["material"] in LIKE:
            name = LIKE[row["material"]]
            ours = (row["conductivity_w_per_m_k"], row["density_kg_per_m3"], row["specific_j_per_kg_k"])
            theirs = (k_material(name), rho_material(name), Cp_material(name))
            worst = max(worst, *(abs(a / b - 1) for a, b in zip(ours, theirs, strict=True)))
    outside(
        source="ht", place="insulation", read="program", what="conductivity, density, heat of walls", deviation=worst
    )
    assert worst <= 0.25
