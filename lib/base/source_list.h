/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every citation the library rests on, one a row:
 *
 *     X(KEY, "author", year, "title", "place", how)
 *
 * VENT__SOURCE_<KEY> is its number, from 1 in this order; 0 means "stated by the caller". One row is
 * one place in one work, with one word on how the value was obtained there: the same book read in
 * print and through another's reprint makes two rows. Add rows at the end. */
#ifndef VENT_BASE_SOURCE_LIST_H
#define VENT_BASE_SOURCE_LIST_H

#include <ventstack/source.h>

/* clang-format off */
#define VENT__SOURCE_LIST(X) \
    /* fittings, terminations, junctions */ \
    X(RENNELS_BEND, "D. C. Rennels, H. M. Hudson", 2012, "Pipe Flow: A Practical and Comprehensive Guide", \
      "smooth round bend of any angle and radius", VENT_HOW_REPRINT) \
    X(IDELCHIK_BEND, "I. E. Idelchik", 2006, "Handbook of Hydraulic Resistance, 3rd edition", \
      "diagram 6-1, smooth round bend", VENT_HOW_REPRINT) \
    X(RENNELS_MITRE, "D. C. Rennels, H. M. Hudson", 2012, "Pipe Flow: A Practical and Comprehensive Guide", \
      "single-joint mitre bend", VENT_HOW_REPRINT) \
    X(IDELCHIK_MITRE, "I. E. Idelchik", 2006, "Handbook of Hydraulic Resistance, 3rd edition", \
      "diagram 6-7, single-joint mitre bend", VENT_HOW_REPRINT) \
    X(BORDA_CARNOT, "J. C. Borda, L. N. M. Carnot", 1803, "Loss of velocity at a sudden expansion", \
      "momentum balance over the expansion", VENT_HOW_COMPUTED) \
    X(RENNELS_CONTRACTION, "D. C. Rennels, H. M. Hudson", 2012, "Pipe Flow: A Practical and Comprehensive Guide", \
      "sharp-edged and conical contraction", VENT_HOW_REPRINT) \
    X(CRANE_CONTRACTION, "Crane Co.", 2009, "Flow of Fluids Through Valves, Fittings, and Pipe, TP-410", \
      "sudden and conical contraction", VENT_HOW_REPRINT) \
    X(RENNELS_DIFFUSER, "D. C. Rennels, H. M. Hudson", 2012, "Pipe Flow: A Practical and Comprehensive Guide", \
      "conical diffuser", VENT_HOW_REPRINT) \
    X(CRANE_DIFFUSER, "Crane Co.", 2009, "Flow of Fluids Through Valves, Fittings, and Pipe, TP-410", \
      "conical diffuser", VENT_HOW_REPRINT) \
    X(IDELCHIK_FLUSH, "I. E. Idelchik", 1966, "Handbook of Hydraulic Resistance", \
      "diagram 3-1, sharp-edged entry flush with a wall", VENT_HOW_REPRINT) \
    X(RENNELS_FLUSH, "D. C. Rennels, H. M. Hudson", 2012, "Pipe Flow: A Practical and Comprehensive Guide", \
      "sharp-edged entry flush with a wall", VENT_HOW_REPRINT) \
    X(RENNELS_REENTRANT, "D. C. Rennels, H. M. Hudson", 2012, "Pipe Flow: A Practical and Comprehensive Guide", \
      "sharp-edged entry at a distance from the wall", VENT_HOW_REPRINT) \
    X(RENNELS_ROUNDED, "D. C. Rennels, H. M. Hudson", 2012, "Pipe Flow: A Practical and Comprehensive Guide", \
      "rounded entry flush with a wall, diagram 9.2", VENT_HOW_REPRINT) \
    X(IDELCHIK_ROUNDED, "I. E. Idelchik", 1966, "Handbook of Hydraulic Resistance", \
      "diagram 3-4, rounded entry flush with a wall", VENT_HOW_MEMORY) \
    X(SWAMEE_ROUNDED, "P. K. Swamee, A. K. Sharma", 2008, "Design of Water Supply Pipe Networks", \
      "rounded entry flush with a wall", VENT_HOW_REPRINT) \
    X(EXIT, "energy balance", 0, "Exit of a pipe into still air", \
      "the leaving velocity pressure is lost whole", VENT_HOW_COMPUTED) \
    X(IDELCHIK_TEE, "I. E. Idelchik", 2006, "Handbook of Hydraulic Resistance, 3rd edition", \
      "diagram 7-29, symmetrical tee of equal bores", VENT_HOW_REPRINT) \
    X(IDELCHIK_SCREEN, "I. E. Idelchik", 1966, "Handbook of Hydraulic Resistance", \
      "diagram 8-6, screen of round wires", VENT_HOW_MEMORY) \
    X(WEATHER_CAP, "American Conference of Governmental Industrial Hygienists", 2001, "Industrial Ventilation, 24th edition", \
      "weather cap, power law through remembered values", VENT_HOW_MEMORY) \
    X(IDELCHIK_CONVERGING, "I. E. Idelchik", 2006, "Handbook of Hydraulic Resistance, 3rd edition", \
      "equations 7-1 and 7-2, table 7-1, converging wyes and tees, made continuous", VENT_HOW_REPRINT) \
    X(CRANE_DIVIDING, "Crane Co.", 2009, "Flow of Fluids Through Valves, Fittings, and Pipe, TP-410", \
      "chapter 2, diverging wyes and tees, made continuous", VENT_HOW_REPRINT) \
    /* pipe */ \
    X(ASTM_D1785, "ASTM International", 1988, "D1785, Poly(Vinyl Chloride) (PVC) Plastic Pipe, Schedules 40, 80, and 120", \
      "outside diameters, walls and tolerances, with the average inside diameters tabulated for such pipe", VENT_HOW_REPRINT) \
    X(ASTM_D2665, "ASTM International", 1988, "D2665, Poly(Vinyl Chloride) (PVC) Plastic Drain, Waste, and Vent Pipe and Fittings", \
      "outside diameters, walls and tolerances; average inside diameters by the rule of D1785 pipe", VENT_HOW_REPRINT) \
    X(ASTM_F891, "ASTM International", 2004, "F891, Coextruded Poly(Vinyl Chloride) (PVC) Plastic Pipe With a Cellular Core", \
      "Schedule 40 series; average inside diameters by the rule of D1785 pipe", VENT_HOW_MEMORY) \
    X(ASTM_D3034, "ASTM International", 2008, "D3034, Type PSM Poly(Vinyl Chloride) (PVC) Sewer Pipe and Fittings", \
      "SDR 35: outside diameters and wall of 4 in read in a reprint, the rest not", VENT_HOW_MEMORY) \
    X(DOWNSPOUT, "trade", 0, "Nominal sides of rectangular downspouts", \
      "real profiles are corrugated and smaller", VENT_HOW_PRACTICE) \
    X(SWIM_PLASTIC, "W. B. Swim", 1982, "Friction factor and roughness for airflow in plastic pipe, ASHRAE Transactions 88", \
      "9.1 to 46 um; general tables 1.5 to 7 um; value chosen at their low end", VENT_HOW_REPRINT) \
    X(MOODY_TUBING, "L. F. Moody", 1944, "Friction factors for pipe flow, Transactions of the ASME 66", \
      "drawn tubing, 0.000005 ft", VENT_HOW_REPRINT) \
    X(MOODY_STEEL, "L. F. Moody", 1944, "Friction factors for pipe flow, Transactions of the ASME 66", \
      "commercial steel or wrought iron, 0.00015 ft", VENT_HOW_REPRINT) \
    X(HUTCHINSON_ALUMINIUM, "F. W. Hutchinson", 1953, "Friction losses in round aluminum ducts, ASHVE Transactions 59", \
      "longitudinal seams, slip joints every 3 ft, 0.00012 to 0.0002 ft", VENT_HOW_REPRINT) \
    X(GRIGGS_GALVANIZED, "E. I. Griggs, W. B. Swim, G. H. Henderson", 1987, "Resistance to flow of round galvanized ducts, ASHRAE Transactions 93", \
      "joints every 4 ft, 0.00016 to 0.00032 ft; span widened to Moody's 0.0005 ft", VENT_HOW_REPRINT) \
    X(ABUSHAKRA_FLEXIBLE, "B. Abushakra, I. S. Walker, M. H. Sherman", 2004, "Compression effects on pressure loss in flexible HVAC ducts, HVAC&R Research 10", \
      "fully extended, 0.0003 to 0.003 ft", VENT_HOW_REPRINT) \
    X(MOMENTUM_JUNCTION, "momentum balance", 0, "Streams that meet at one pressure", \
      "any number of pipes, any angle, any flow", VENT_HOW_COMPUTED) \
    X(IDELCHIK_JOINING, "I. E. Idelchik", 2006, "Handbook of Hydraulic Resistance, 3rd edition", \
      "equations 7-1 and 7-2, tables 7-1 and 7-3, converging wyes and tees, as printed", VENT_HOW_REPRINT) \
    X(CRANE_JOINING, "Crane Co.", 2009, "Flow of Fluids Through Valves, Fittings, and Pipe, TP-410", \
      "chapter 2, converging wyes and tees, as printed", VENT_HOW_REPRINT) \
    X(CRANE_PARTING, "Crane Co.", 2009, "Flow of Fluids Through Valves, Fittings, and Pipe, TP-410", \
      "chapter 2, diverging wyes and tees, as printed", VENT_HOW_REPRINT) \
    X(GARDEL_JOINING, "A. Gardel", 1957, "Pressure drops in flows through T-shaped pipe fittings, Bulletin Technique de la Suisse Romande 83", \
      "converging tees of any angle, sharp edges", VENT_HOW_MEMORY) \
    X(GARDEL_PARTING, "A. Gardel", 1957, "Pressure drops in flows through T-shaped pipe fittings, Bulletin Technique de la Suisse Romande 83", \
      "diverging tees of any angle, sharp edges", VENT_HOW_MEMORY) \
    /* devices and connectors */ \
    X(IDELCHIK_BUTTERFLY, "I. E. Idelchik", 1986, "Handbook of Hydraulic Resistance, 2nd edition", \
      "section 9, disc throttling valve in a round tube", VENT_HOW_MEMORY) \
    X(WEISBACH_THROTTLE, "J. Weisbach", 1855, "Die Experimental-Hydraulik", \
      "disc valve in a round pipe, 5 to 70 degrees; 5 of 14 values met in a reprint", VENT_HOW_MEMORY) \
    X(MILLER_BUTTERFLY, "D. S. Miller", 1978, "Internal Flow Systems", \
      "section 14.6, butterfly valve, as fitted in an open program library", VENT_HOW_REPRINT) \
    X(HAVES_BLADE, "P. Haves, L. K. Norford, M. DeSimone, L. Mei", 1996, "A standard simulation test bed, ASHRAE 825-RP", \
      "single-blade damper, exponential between 25 and 75 degrees; year from memory", VENT_HOW_REPRINT) \
    X(RENNELS_ORIFICE, "D. C. Rennels, H. M. Hudson", 2012, "Pipe Flow: A Practical and Comprehensive Guide", \
      "sharp-edged orifice in a pipe; openings of other shapes by their free area", VENT_HOW_MEMORY) \
    X(IDELCHIK_ORIFICE, "I. E. Idelchik", 1986, "Handbook of Hydraulic Resistance, 2nd edition", \
      "diagram 4-14, thin sharp-edged orifice in a pipe; other shapes by their free area", VENT_HOW_MEMORY) \
    X(ISO_ORIFICE, "International Organization for Standardization", 2003, "ISO 5167-2, Orifice plates", \
      "Reader-Harris/Gallagher equation, corner taps, and pressure loss coefficient", VENT_HOW_REPRINT) \
    X(WEISBACH_GATE, "J. Weisbach", 1855, "Die Experimental-Hydraulik", \
      "round-ended slide in a round pipe, 1/8 to 7/8 closed; 3 of 7 values met in a reprint", VENT_HOW_MEMORY) \
    X(MILLER_GATE, "D. S. Miller", 1978, "Internal Flow Systems", \
      "section 14.6, gate valve, as fitted in an open program library", VENT_HOW_REPRINT) \
    X(MILLER_SLUICE, "D. S. Miller", 1978, "Internal Flow Systems", \
      "section 14.6, sluice valve, as fitted in an open program library", VENT_HOW_REPRINT) \
    X(WEISBACH_COCK, "J. Weisbach", 1855, "Die Experimental-Hydraulik", \
      "cock in a round pipe, 5 to 65 degrees; 5 of 13 values met in a reprint", VENT_HOW_MEMORY) \
    X(MILLER_BALL, "D. S. Miller", 1978, "Internal Flow Systems", \
      "section 14.6, ball valve, as fitted in an open program library", VENT_HOW_REPRINT) \
    X(HOOPER_SWING, "W. B. Hooper", 1981, "The two-K method predicts head losses in pipe fittings", \
      "swing check valve", VENT_HOW_REPRINT) \
    X(DARBY_SWING, "R. Darby", 2001, "Chemical Engineering Fluid Mechanics, 2nd edition", \
      "three-K method, swing check valve", VENT_HOW_REPRINT) \
    X(PERRY_SWING, "R. H. Perry and others", 1997, "Perry's Chemical Engineers' Handbook, 7th edition", \
      "swing check valve, turbulent flow; attribution of the reprint from memory", VENT_HOW_REPRINT) \
    X(ABUSHAKRA_COMPRESSION, "B. Abushakra, I. S. Walker, M. H. Sherman", 2004, "Compression effects on pressure loss in flexible HVAC ducts, HVAC&R Research 10", \
      "pressure drop correction factor; formula from memory, its size from the abstract", VENT_HOW_MEMORY) \
    X(DARBY_RUN, "R. Darby", 2001, "Chemical Engineering Fluid Mechanics, 2nd edition", \
      "three-K method, tee run-through, flanged", VENT_HOW_REPRINT) \
    X(HOOPER_RUN, "W. B. Hooper", 1981, "The two-K method predicts head losses in pipe fittings", \
      "tee run-through, flanged or welded", VENT_HOW_REPRINT) \
    X(CRANE_RUN, "Crane Co.", 2009, "Flow of Fluids Through Valves, Fittings, and Pipe, TP-410", \
      "standard tee, flow through run: 20 friction factors of clean steel pipe", VENT_HOW_REPRINT) \
    X(FAN_OUTLET, "momentum balance", 0, "What a full outlet pipe recovers behind a fan", \
      "blast area by momentum; decay along the pipe from remembered curves of AMCA 201", VENT_HOW_MEMORY) \
    X(FAN_INLET, "Air Movement and Control Association", 2002, "AMCA 201-02, Fans and Systems", \
      "elbow at the inlet, power law and decay through remembered curves", VENT_HOW_MEMORY) \
    X(EP260_TUBING, "American Society of Agricultural Engineers", 1993, "EP260.4, Design and Construction of Subsurface Drainage Systems in Humid Areas", \
      "corrugated plastic tubing: Manning 0.015 (3 to 8 in) to 0.018, as sand roughness", VENT_HOW_MEMORY) \
    /* friction and air */ \
    X(FRICTION, "C. F. Colebrook", 1939, "Turbulent flow in pipes, Journal of the Institution of Civil Engineers 11", \
      "turbulent friction; laminar by Hagen and Poiseuille, blended between by this library", VENT_HOW_MEMORY) \
    X(AIR_DENSITY, "A. Picard, R. S. Davis, M. Glaeser, K. Fujii", 2008, "Revised formula for the density of moist air (CIPM-2007), Metrologia 45", \
      "equation 1 and appendix A, density of moist air", VENT_HOW_REPRINT) \
    X(AIR_VISCOSITY, "E. W. Lemmon, R. T. Jacobsen", 2004, "Viscosity and thermal conductivity equations for nitrogen, oxygen, argon, and air, International Journal of Thermophysics 25", \
      "equation 2, viscosity of dry air at low pressure", VENT_HOW_MEMORY) \
    /* measurement */ \
    X(GUM, "Joint Committee for Guides in Metrology", 2008, "JCGM 100, Guide to the expression of uncertainty in measurement", \
      "4.3.7, 5.1.2, F.2.2.1", VENT_HOW_MEMORY) \
    X(ZAGAROLA, "M. V. Zagarola, A. J. Smits", 1998, "Mean-flow scaling of turbulent pipe flow, Journal of Fluid Mechanics 373", \
      "centre velocity 4.28 friction velocities above the mean", VENT_HOW_MEMORY) \
    X(ISO_3966, "International Organization for Standardization", 2008, "ISO 3966, Measurement of fluid flow in closed conduits, velocity area method", \
      "log-linear points, log-Tchebycheff points of rectangular pipe, as tabled in instrument manuals", VENT_HOW_REPRINT) \
    X(ISO_3966_MEMORY, "International Organization for Standardization", 2008, "ISO 3966, Measurement of fluid flow in closed conduits, velocity area method", \
      "log-linear points, 4 a diameter; log-Tchebycheff points of round pipe", VENT_HOW_MEMORY) \
    X(EPA_METHOD_1, "U.S. Environmental Protection Agency", 2017, "40 CFR 60, appendix A, method 1", \
      "centres of equal areas", VENT_HOW_COMPUTED) \
    X(ISO_5167, "International Organization for Standardization", 2003, "ISO 5167-2, Measurement of fluid flow by means of pressure differential devices, orifice plates", \
      "5.3 and 5.4, the Reader-Harris/Gallagher equation", VENT_HOW_REPRINT) \
    /* what other modules rest on follows; add rows at the end */

enum {
    VENT__SOURCE_NONE = 0,
#define VENT__SOURCE_ENUMERATOR(key, author, year, title, place, how) VENT__SOURCE_##key,
    VENT__SOURCE_LIST(VENT__SOURCE_ENUMERATOR)
#undef VENT__SOURCE_ENUMERATOR
    VENT__SOURCE_END /* one past the last */
};
/* clang-format on */

#endif
