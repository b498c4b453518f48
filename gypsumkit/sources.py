"""Where every number comes from: the bibliography, and the number that carries its source with it."""

from dataclasses import dataclass

STANDINGS = (
    "measured here",                 # the reader measured it, at the own bench
    "maker's sheet",                 # printed by the maker of the reader's product, not checked by us
    "measured",                      # somebody measured it and we read the publication
    "published",                     # a published law or compilation that we read or can check
    "standard",                      # a requirement of a published standard
    "calculated",                    # arithmetic from other entries
    "handbook, from memory",         # a handbook value recalled, the page not re-read
    "common practice, no source",    # what the trade does
    "our calibration",               # a teaching value chosen by us so that the mix behaves as in practice
)

SOURCES = {
    "iupac_weights": "IUPAC Commission on Isotopic Abundances and Atomic Weights, Standard atomic weights, "
                     "abridged values (H 1.008, O 15.999, S 32.06, Ca 40.078).",
    "gypsum_density": "Mineral data sheets for gypsum: density 2.31 to 2.33 g/cm3, molar volume 74.2 to 74.7 cm3/mol.",
    "singh_2007": "N.B. Singh and B. Middendorf, Calcium sulphate hemihydrate hydration leading to "
                  "gypsum crystallization, Progress in Crystal Growth and Characterization of Materials 53 (2007) 57-77; "
                  "densities of the hemihydrates recalled, page not re-read.",
    "lewry_1994": "A.J. Lewry and J. Williamson, The setting of gypsum plaster, part 1, Journal of Materials Science 29 "
                  "(1994) 5279-5284: alpha and beta hemihydrate differ in crystal size and habit, not in lattice (abstract).",
    "kell_1975": "G.S. Kell, Density, thermal expansivity and compressibility of liquid water from 0 to 150 C, "
                 "Journal of Chemical and Engineering Data 20 (1975) 97-105.",
    "kestin_1978": "J. Kestin, M. Sokolov and W.A. Wakeham, Viscosity of liquid water in the range -8 C to 150 C, "
                   "Journal of Physical and Chemical Reference Data 7 (1978) 941-948.",
    "flatt_2006": "R.J. Flatt and P. Bowen, Yodel: a yield stress model for suspensions, Journal of the American Ceramic "
                  "Society 89 (2006) 1244-1256: form of the law, recalled.",
    "krieger_1959": "I.M. Krieger and T.J. Dougherty, A mechanism for non-Newtonian flow in suspensions of rigid spheres, "
                    "Transactions of the Society of Rheology 3 (1959) 137-152: form of the law, recalled.",
    "pashias_1996": "N. Pashias, D.V. Boger, J. Summers and D.J. Glenister, A fifty cent rheometer for yield stress "
                    "measurement, Journal of Rheology 40 (1996) 1179-1189.",
    "roussel_2005": "N. Roussel and P. Coussot, Fifty-cent rheometer for yield stress measurements: from slump to spreading "
                    "flow, Journal of Rheology 49 (2005) 705-718.",
    "hanotin_2012": "C. Hanotin, S. Kiesgen de Richter, P. Marchal, L.J. Michot and C. Baravian, Vibration-induced "
                    "liquefaction of granular suspensions, Physical Review Letters 108 (2012) 198301: direction of the effect, recalled.",
    "craig_handbook": "R.G. Craig and J.M. Powers, Restorative Dental Materials, chapter on gypsum products, table of "
                      "compressive strength against water/powder ratio: nine values from memory.",
    "sattler_1997": "H. Sattler, The importance of porosity for the properties of hardened gypsum plaster products, ZKG International "
                    "50 (1997) no. 1, 54-62: properties follow (1 - porosity)^n with n from 2.5 to 3.5, alpha and beta alike at equal "
                    "porosity (abstract).",
    "ryshkewitch_1953": "E. Ryshkewitch, Compression strength of porous sintered alumina and zirconia, Journal of the "
                        "American Ceramic Society 36 (1953) 65-68: exponential law of strength against porosity.",
    "iso_6873": "ISO 6873, Dentistry: gypsum products (editions 1998 and 2013): types 1 to 5; limits recalled unless said.",
    "powers_table_8_2": "Textbook of dental materials, chapter 8, Gypsum materials, table 8.2 (water per 100 g of powder: "
                        "plaster 40-50, stone 25-30, die stone 19-24 g).",
    "teaching_sets": "Open teaching sets on dental gypsum (several, no author recorded): plaster 45-50, stone 28-30, improved stone 19-24 mL "
                     "per 100 g; expansion 0.2-0.3, 0.08-0.10, 0.05-0.07 %.",
    "plaster_table_2009": "Properties of typical gypsum plasters and cements, glasstips.blogspot.com, 18 November 2009: water, "
                          "dry density, expansion and dry strength of nine industrial products; seven used, of the others one is listed "
                          "twice and one foams.",
    "fracture_2017": "D. Liu, B. Savija, G.E. Smith, P.E.J. Flewitt, T. Lowe and E. Schlangen, Towards understanding the influence of "
                     "porosity on mechanical and fracture behaviour of quasi-brittle materials, International Journal of Fracture 205 (2017) "
                     "57-72, doi 10.1007/s10704-017-0181-7: 0.5 % by volume of bubbles below 0.5 mm radius in set gypsum (part read).",
    "drying_guide": "A maker's guide to drying gypsum casts (title not recorded): strength rises little until about 93 % of the free water has gone; "
                    "one cement 55 MPa at 1 h and 110 MPa oven-dry.",
    "thermoddem": "P. Blanc, A. Lassin, P. Piantone, M. Azaroual, N. Jacquemet, A. Fabbri and E.C. Gaucher, Thermoddem: a geochemical "
                  "database focused on low temperature water/rock interactions and waste materials, Applied Geochemistry 27 "
                  "(2012) 2107-2116: solubilities computed from it, fitted by us.",
    "trade": "Common practice of the dental laboratory; no source.",
    "gypsumkit": "Chosen or fitted by the authors of this course; a teaching value, not a measurement.",
    "kelley_1941": "K.K. Kelley, J.C. Southard and C.T. Anderson, Thermodynamic properties of gypsum and its dehydration products, U.S. "
                   "Bureau of Mines Technical Paper 625 (1941): heat capacities, recalled.",
    "darmawan_2020": "Darmawan et al., Journal of Dental Research, Dental Clinics, Dental Prospects 14 (2020) 167-170: setting times "
                     "of three plasters at a ratio of 0.50 by two needles (ASTM C266).",
    "nbs_1982": "D.D. Wagman et al., The NBS tables of chemical thermodynamic properties, Journal of Physical and Chemical Reference "
                "Data 11 (1982) supplement 2: formation enthalpies, recalled (alpha -1576.74, beta -1574.65, gypsum -2022.63, "
                "water -285.83 kJ/mol).",
    "posnjak_1938": "E. Posnjak, The system CaSO4-H2O, American Journal of Science 35A (1938) 247-272: gypsum and hemihydrate are in "
                    "balance at 97 C, recalled.",
    "huppert_1982": "H.E. Huppert, The propagation of two-dimensional and axisymmetric viscous gravity currents over a rigid "
                    "horizontal surface, Journal of Fluid Mechanics 121 (1982) 43-58: abstract read, factor derived again by us.",
    "trouton_1906": "F.T. Trouton, On the coefficient of viscous traction and its relation to that of viscosity, Proceedings of the "
                    "Royal Society A 77 (1906) 426-440: a stretched liquid resists with three times its viscosity, recalled.",
    "beris_1985": "A.N. Beris, J.A. Tsamopoulos, R.C. Armstrong and R.A. Brown, Creeping motion of a sphere through a Bingham plastic, "
                  "Journal of Fluid Mechanics 158 (1985) 219-244: the sphere moves only below a dimensionless yield stress of 0.143 (abstract).",
    "tsamopoulos_2008": "J. Tsamopoulos, Y. Dimakopoulos, N. Chatzidai, G. Karapetsas and M. Pavlidis, Steady bubble rise and deformation in "
                        "Newtonian and viscoplastic fluids and conditions for bubble entrapment, Journal of Fluid Mechanics 601 (2008) "
                        "123-164: definition of the number (abstract); its value recalled.",
    "de_corato_2019": "M. De Corato, B. Saint-Michel, G. Makrigiorgios, Y. Dimakopoulos, J. Tsamopoulos and V. Garbin, Oscillations of small "
                      "bubbles and medium yielding in elastoviscoplastic fluids, arXiv 1904.01403 (2019): shaking can yield the mass "
                      "round a bubble (abstract).",
    "stokes_1851": "G.G. Stokes, On the effect of the internal friction of fluids on the motion of pendulums, Transactions of the Cambridge "
                   "Philosophical Society 9 (1851) part II, 8-106.",
    "wicksell_1925": "S.D. Wicksell, The corpuscle problem, Biometrika 17 (1925) 84-99: balls cut by a plane.",
    "scott_1969": "G.D. Scott and D.M. Kilgour, The density of random close packing of spheres, Journal of Physics D: Applied Physics 2 "
                  "(1969) 863-866: 0.6366, recalled; poured without shaking about 0.60.",
    "shanghai_2006": "Shanghai Journal of Biomedical Engineering 2006 no. 3, 175: mixing under vacuum made stone stronger and steadier than "
                     "mixing by hand.",
    "azer_2008": "S.S. Azer, R.E. Kerby and L.A. Knobloch, Effect of mixing methods on the physical properties of dental stones, Journal of "
                 "Dentistry 36 (2008) 736-744: mixing method changed tensile strength and pores only (abstract).",
    "nsead_safety": "National Society for Education in Art and Design, A Guide to Safe Practice in Art and Design, 7.12 Plaster of Paris, "
                    "nsead.org/hsg/hs712.aspx: as high as 60 C; skin damage perhaps from 45 C if contact is prolonged; a cast that encloses "
                    "any part of the body is potentially very dangerous.",
    "burns_1982": "Heat generation in plaster of Paris and resulting hand burns, Burns (1982), doi 10.1016/0305-4179(82)90135-8: four pupils "
                  "burned while casting their hands in dental plaster; hardening dental plaster rose to 70 C (abstract).",
    "winkler_1998": "Winkler et al., Journal of Prosthetic Dentistry 79 (1998) 532: one stone was set at 10, 20 or 60 min, by needle, microscope "
                    "or diffraction (abstract).",
    "late_expansion_2002": "Delayed linear expansion of improved dental stone, Journal of Prosthetic Dentistry 2002, doi "
                           "10.1067/mpr.2002.127653: after 120 hours from 0.14 % (a type IV) to 0.35 % (a type V), complete by about 96 "
                           "hours for all stones but one (abstract).",
    "slurry_type_3": "The effects of mixing slurry water with type III gypsum on setting time, compressive strength and dimensional stability: "
                     "shorter setting, lower strength, larger dimensional change (abstract, scilit.net).",
    "denizoglu": "S. Denizoglu, N. Yanikoglu and B. Baydas, The linear setting expansions of the dental stone and whose initial setting times, "
                 "Dentistry: slurry water shortened setting and raised the expansion in the first 24 hours (abstract).",
    "iso_6873_contents": "ISO 6873:1998, Dental gypsum products, list of contents (preview of the publisher): numbers of the clauses; the limits were not "
                         "in it.",
    "gost_51887": "GOST R 51887-2002 (ISO 6873-98), Dental gypsum products, sections 5.2 and 5.3: a Russian adoption of the edition of 1998 with additions: "
                  "fluidity 70 mm or more at 1.25 min, type 1 sets in 2.5 to 5.0 min; where a maker claims a range, its middle counts.",
    "yy_0462": "YY 0462-2003, Dental gypsum products, section 4.2: a Chinese adoption of the edition of 1998: fluidity 70 mm or more at 1 min 15 s.",
    "ada_25": "ANSI/ADA Standard No. 25, Dental gypsum products, executive summary of the American Dental Association: classes of type 2 as in the edition "
              "of 2013; fluidity 70 mm or more; type 1 sets in 2.5 to 5.0 min, every type within 20 % of the maker's claim.",
    "nist_handbook": "NIST/SEMATECH e-Handbook of Statistical Methods, itl.nist.gov/div898/handbook: confidence limits of the mean "
                     "(1.3.5.2), Grubbs' test with its uranium example (1.3.5.17.1), straight lines (4.1.4.1); formulas recalled, the "
                     "example read as quoted by others.",
    "nist_strd": "NIST Statistical Reference Datasets, itl.nist.gov/div898/strd: data with certified results, read as quoted by others.",
    "iso_5725": "ISO 5725-2 and 5725-6, Accuracy (trueness and precision) of measurement methods and results: repeatability and "
                "reproducibility by analysis of variance, limits of 2.8 standard deviations; recalled.",
    "cook_1982": "R.D. Cook and S. Weisberg, Residuals and Influence in Regression, Chapman and Hall (1982): studentised residuals and "
                 "the test of the largest, recalled.",
    "gum": "JCGM 100:2008, Evaluation of measurement data: guide to the expression of uncertainty in measurement: first-order "
           "propagation (5.1.2), the step of a scale as a rectangular distribution (F.2.2.1), analysis of variance (H.5, its numbers read as quoted by "
           "others); the rest recalled.",
    "gum_monte_carlo": "JCGM 101:2008, Supplement 1 to the guide to the expression of uncertainty in measurement: propagation of "
                       "distributions using a Monte Carlo method; examples 9.2 and 9.3 recalled.",
    "makers_questions": "A maker's list of questions and answers on dental gypsum (GC, faq.gcdental.co.jp, question 1354, in Japanese, read): why the "
                        "surface of a cast is rough: water left in the impression; drugs, blood or saliva on it; cast taken out too early; agar "
                        "worn out; alginate left on too long; wrong water; gypsum poured too soon onto silicone.",
    "imbery_2010": "T.A. Imbery, J. Nehring, C. Janus and P.C. Moon, Accuracy and dimensional stability of extended-pour and conventional alginate impression "
                   "materials, Journal of the American Dental Association 2010: casts from impressions stored up to five days differed by -0.496 to 0.161 % (abstract).",
    "alginate_four_hours": "Dimensional stability of alginate impression material over a four hours time frame (no author recorded): pour within 10 minutes; under wet gauze "
                           "usable up to 30 minutes (abstract).",
    "mousavi_casts": "S. Mousavi, M. Rahbar, F. Rostamzadeh, K. Jafari and S. Hekmatfar, Dimensional stability of casts derived from three types of alginate at different "
                     "times after impression: no difference at 15 minutes, a difference at 60 minutes and 24 hours (abstract).",
    "pouring_time_2015": "The effect of pouring time on the dimensional stability of casts made from conventional and extended-pour irreversible hydrocolloids by 3D modelling, "
                 "Journal of Dental Sciences, September 2015 (no author recorded): five alginates at 100 % humidity poured with accuracy up to 24 hours (abstract).",
    "walker_2010": "M.P. Walker, J. Burckhard, D.A. Mitts and K.B. Williams, Dimensional change over time of extended-storage alginate impression materials, Angle "
                   "Orthodontist 80 (2010) 1110-1115: all shrank within 30 minutes; the conventional one went on shrinking, the others grew (abstract).",
    "marquezan_2012": "M. Marquezan, E.M. Jurach, V.D. Guimaraes, R.G.A. Valentim, L.I. Nojima and M.C.G. Nojima, Does the contact time of alginate with plaster cast influence "
                      "its properties?, Brazilian Oral Research 2012 (journal and year recalled): detail and hardness of the surface lower after 12 hours than after 1 hour (abstract).",
    "ibrahim_contact": "A.A. Ibrahim, M.N. Alhajj and M.W. Gilada (with N. Khalifa), two studies of stone left in alginate, RSBO 12 (2015) 252-257 and Compendium 38 (2017) no. 6: "
                       "after 9 hours less detail but a harder cast; after 6 hours equal detail but a softer cast (abstracts).",
    "jarvis_1981": "R.G. Jarvis and R. Earnshaw, The effect of alginate impressions on the surface of cast gypsum, part 2, Australian Dental Journal 1981, doi "
                   "10.1111/j.1834-7819.1981.tb03912.x: sodium sulfate in the liquid that leaves the gel holds back the set of the surface (abstract).",
    "craig_1988": "R.G. Craig, Review of dental impression materials, Advances in Dental Research 2 (1988) 51-64: early addition silicones gave off hydrogen, most improved ones "
                  "can be poured at once (abstract).",
    "condensation_dies": "Time-dependent accuracy of elastomer impression materials, part 1, Condensation silicones (no author recorded): pour as soon as possible (summary).",
    "elastomers_2020": "S.A. Khan, Tushar, S. Nezam, P. Singh, N. Kumari and S.S. Singh, Comparison and evaluation of linear dimensional accuracy of three elastomeric impression "
                       "materials, Journal of International Society of Preventive and Community Dentistry 10 (2020) 736-742: at 30 to 90 minutes only the condensation "
                       "silicone differed from the die (abstract).",
    "navy_14275": "U.S. Navy, Dental Assistant training course NAVEDTRA 14275, pages 8-17 and 8-18 (read at medical.tpub.com): rinse the "
                  "impression against soft spots, shake the water out, never whip the mix, flow the gypsum slowly from one end.",
    "colombani_2007": "J. Colombani and J. Bert, Holographic interferometry study of the dissolution and diffusion of gypsum in water, Geochimica et "
                      "Cosmochimica Acta 71 (2007), arXiv 0911.5053: a crystal face in still water gives up 4e-5 mol/m2 s, its ions spread with 1.0e-9 m2/s (abstract).",
    "jeschke_2001": "A.A. Jeschke, K. Vosbeck and W. Dreybrodt, Surface controlled dissolution rates of gypsum in aqueous solutions exhibit nonlinear dissolution "
                    "kinetics, Geochimica et Cosmochimica Acta 65 (2001) 27-34: about 1.1e-3 to 1.3e-3 mol/m2 s, recalled.",
    "air_force_casts": "A training manual for dental laboratories of the U.S. Air Force, sections 2.19.2 and 2.19.3, read as quoted by others: casts soaked for more than 1 "
                       "or 2 minutes only in water saturated with set gypsum, about 0.2 g in 100 cm3; clear above settled slurry after days.",
    "harris_2004": "P.E. Harris, S. Hoyer, T.J. Lindquist and C.M. Stanford, Alterations of surface hardness with gypsum die hardeners, Journal of Prosthetic Dentistry "
                   "2004: Knoop hardness of four stones did not differ between 3 and 24 hours; the type III was softer (abstract).",
    "drying_techniques": "The effects of drying techniques on the compressive strength of gypsum products (iasj.net/iasj/article/45514, no author recorded): 24 h in air "
                         "left two stones stronger than a microwave oven, and that stronger than an ordinary hot oven (abstract).",
    "knoop_2025": "A study of drying methods and Knoop hardness of three type IV stones, Journal of Pharmacy and Bioallied Sciences 2025 (no author recorded): means 67 to 85 "
                  "(abstract).",
    "sheets_2020": "J.L. Sheets, A.G. Wee, B. Simetich and M.W. Beatty, Effect of water dilution on full-arch gypsum implant master casts, Prosthesis 2 (2020) 266-276: "
                   "half as much water again cost 26 to 52 % of the compressive strength (abstract).",
    "gold_compensation": "Resume of the expansion required to compensate for casting gold shrinkage (discovery.researcher.life, no author recorded): on a steel die 1.25 % of "
                         "combined expansion did not fit, at least 1.50 % is needed (abstract).",
    "hollenback_1946": "G.M. Hollenback and E.W. Skinner, Shrinkage during casting of gold and gold alloys, Journal of the American Dental Association 33 (1946) 1391-1399: "
                       "gold alloys 1.4 to 1.6 % linear; nickel-chromium alloys about 2.3 % from a handbook; all recalled.",
    "fixed_handbook": "Handbooks of dental materials, chapters on waxes, investments and casting: wax 0.0 to 0.4 %, gypsum-bonded investment sets by 0.3 to 0.5 % and grows by 1.0 to 1.3 % "
                      "when heated, phosphate-bonded 0.7 to 1.2 % and 1.0 to 1.4 %; lacquer of 20 to 40 um a side; cement of 25 to 50 um; all recalled.",
    "kelley_1939": "T.L. Kelley, The selection of upper and lower groups for the validation of test items, Journal of Educational "
                   "Psychology 30 (1939) 17-24: groups of 27 %.",
    "ebel_1991": "R.L. Ebel and D.A. Frisbie, Essentials of Educational Measurement, 5th edition, Prentice Hall (1991): difficulty, "
                 "discrimination and how it is read; recalled, page not re-read.",
    "henrysson_1963": "S. Henrysson, Correction of item-total correlations in item analysis, Psychometrika 28 (1963) 211-218.",
    "fisher_1921": "R.A. Fisher, On the probable error of a coefficient of correlation deduced from a small sample, Metron 1 (1921) 3-32.",
    "kuder_1937": "G.F. Kuder and M.W. Richardson, The theory of the estimation of test reliability, Psychometrika 2 (1937) 151-160: formula 20.",
    "cronbach_1951": "L.J. Cronbach, Coefficient alpha and the internal structure of tests, Psychometrika 16 (1951) 297-334.",
    "feldt_1965": "L.S. Feldt, The approximate sampling distribution of Kuder-Richardson reliability coefficient twenty, Psychometrika 30 "
                  "(1965) 357-370.",
    "lord_1968": "F.M. Lord and M.R. Novick, Statistical Theories of Mental Test Scores, Addison-Wesley (1968): standard error of measurement.",
    "cohen_1968": "J. Cohen, Weighted kappa: nominal scale agreement with provision for scaled disagreement or partial credit, Psychological "
                  "Bulletin 70 (1968) 213-220.",
    "fleiss_1969": "J.L. Fleiss, J. Cohen and B.S. Everitt, Large sample standard errors of kappa and weighted kappa, Psychological Bulletin "
                   "72 (1969) 323-327.",
    "given": "Given in the recipe.",
    "own_bench": "Measured at the reader's own bench, or read from the sheet of the reader's own product.",
}


@dataclass(frozen=True)
class Sourced:
    """A number with its unit, plausible range, source and standing.

    Parameters
    ----------
    value, low, high : float
        The number and the plausible range it lies in (about 19 times in 20), in `unit`.
    unit : str
        Unit, "1" for a pure number.
    source : str
        Key into `SOURCES`.
    locator : str
        Table, page, equation or remark that finds the number in its source.
    standing : str
        One of `STANDINGS`.

    Raises
    ------
    ValueError
        If the source or the standing is unknown, or the value lies outside its own range.
    """

    value: float
    unit: str
    low: float
    high: float
    source: str
    locator: str
    standing: str

    def __post_init__(self):
        if self.source not in SOURCES:
            raise ValueError(f"No source is called {self.source!r}; add it to gypsumkit/sources.py first.")
        if self.standing not in STANDINGS:
            raise ValueError(f"{self.standing!r} is not a standing; use one of: {'; '.join(STANDINGS)}.")
        if not self.low <= self.value <= self.high:
            raise ValueError(f"{self.value} {self.unit} lies outside its own range, {self.low} to {self.high}.")

    def __float__(self):
        return float(self.value)
