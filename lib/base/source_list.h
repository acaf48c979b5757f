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
      "diagram 6-7, single-joint mitre bend, with the Reynolds number's factor of SMACNA (2006), table A-7", VENT_HOW_COMPUTED) \
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
    /* bends and general forms */ \
    X(ITO_BEND, "H. Ito", 1960, "Pressure losses in smooth pipe bends, Journal of Basic Engineering 82", \
      "smooth bends of 45, 90 and 180 degrees, in the form of R. D. Blevins (1984)", VENT_HOW_REPRINT) \
    X(MILLER_BEND, "D. S. Miller", 1990, "Internal Flow Systems, 2nd edition", \
      "figures 9.2 and 9.3, smooth bends and their Reynolds number, read from digitised curves", VENT_HOW_REPRINT) \
    X(CRANE_BEND, "Crane Co.", 2009, "Flow of Fluids Through Valves, Fittings, and Pipe, TP-410", \
      "90 degree pipe bends; straight in the angle below 90 degrees", VENT_HOW_REPRINT) \
    X(MILLER_MITRE, "D. S. Miller", 1990, "Internal Flow Systems, 2nd edition", \
      "single mitre bends and their Reynolds number, read from digitised curves", VENT_HOW_REPRINT) \
    X(BLEVINS_MITRE, "R. D. Blevins", 1984, "Applied Fluid Dynamics Handbook", \
      "single mitre bends", VENT_HOW_REPRINT) \
    X(CRANE_MITRE, "Crane Co.", 2009, "Flow of Fluids Through Valves, Fittings, and Pipe, TP-410", \
      "mitre bends", VENT_HOW_REPRINT) \
    X(HOOPER_SEGMENTED, "W. B. Hooper", 1981, "The two-K method predicts head losses in pipe fittings, Chemical Engineering 88(17)", \
      "mitred elbows of 1 to 5 joints less the smooth elbow, put by this library on a smooth bend by Rennels and Hudson", VENT_HOW_COMPUTED) \
    X(DARBY_3K, "R. Darby", 2001, "Chemical Engineering Fluid Mechanics, 2nd edition", \
      "three-constant form K1/Re + Ki (1 + Kd/Dn^0.3) and its constants", VENT_HOW_REPRINT) \
    X(HOOPER_2K, "W. B. Hooper", 1981, "The two-K method predicts head losses in pipe fittings, Chemical Engineering 88(17)", \
      "two-constant form K1/Re + K(1 + 1/D) and its constants", VENT_HOW_REPRINT) \
    X(HOOPER_2K_MEMORY, "W. B. Hooper", 1981, "The two-K method predicts head losses in pipe fittings, Chemical Engineering 88(17)", \
      "constants of the screwed 180 degree elbow, which reprints have under another name and value", VENT_HOW_MEMORY) \
    X(CRANE_ELBOW, "Crane Co.", 2009, "Flow of Fluids Through Valves, Fittings, and Pipe, TP-410", \
      "standard elbows of 45 and 90 degrees and close return bends", VENT_HOW_REPRINT) \
    X(MILLER_PAIR, "D. S. Miller", 1990, "Internal Flow Systems, 2nd edition", \
      "table 10.1, two 90 degree bends close together; each bend by Rennels and Hudson", VENT_HOW_REPRINT) \
    X(MILLER_OUTLET, "D. S. Miller", 1990, "Internal Flow Systems, 2nd edition", \
      "figure 9.4, bends with a short outlet, read from digitised curves; the bend by Rennels and Hudson", VENT_HOW_REPRINT) \
    X(EQUIVALENT_LENGTH, "Crane Co.", 2009, "Flow of Fluids Through Valves, Fittings, and Pipe, TP-410", \
      "equivalent length L/D, at the friction factor of the actual flow", VENT_HOW_REPRINT) \
    /* changes of bore, entries */ \
    X(IDELCHIK_CONTRACTION, "I. E. Idelchik", 2006, "Handbook of Hydraulic Resistance, 3rd edition", \
      "diagram 4-9, sudden contraction", VENT_HOW_REPRINT) \
    X(HOOPER_CHANGE, "W. B. Hooper", 1988, "Calculate head loss caused by change in pipe size, Chemical Engineering 95(16)", \
      "sudden and conical changes of bore, turbulent flow", VENT_HOW_REPRINT) \
    X(IDELCHIK_DIFFUSER, "I. E. Idelchik", 1966, "Handbook of Hydraulic Resistance", \
      "conical diffuser, formula up to 40 degrees; beyond it values of the diagram from a reprint", VENT_HOW_MEMORY) \
    X(RENNELS_ROUNDED_CHANGE, "D. C. Rennels, H. M. Hudson", 2012, "Pipe Flow: A Practical and Comprehensive Guide", \
      "rounded contraction", VENT_HOW_REPRINT) \
    X(IDELCHIK_ROUNDED_CHANGE, "I. E. Idelchik", 1966, "Handbook of Hydraulic Resistance", \
      "rounded contraction: the rounded entry of diagram 3-4 times one less the area ratio", VENT_HOW_MEMORY) \
    X(RENNELS_BEVELLED_CHANGE, "D. C. Rennels, H. M. Hudson", 2012, "Pipe Flow: A Practical and Comprehensive Guide", \
      "bevelled contraction", VENT_HOW_REPRINT) \
    X(IDELCHIK_BEVEL, "I. E. Idelchik", 1966, "Handbook of Hydraulic Resistance", \
      "table of the conical entry with an end wall; of a contraction, times one less the area ratio", VENT_HOW_REPRINT) \
    X(IDELCHIK_THICK_EDGE, "I. E. Idelchik", 2006, "Handbook of Hydraulic Resistance, 3rd edition", \
      "diagrams 4-12 and 4-15, thick-edged orifice; that of unequal sides", VENT_HOW_MEMORY) \
    X(RENNELS_THICK_EDGE, "D. C. Rennels, H. M. Hudson", 2012, "Pipe Flow: A Practical and Comprehensive Guide", \
      "thick-edged orifice; that of no thickness agrees with a reprint", VENT_HOW_MEMORY) \
    X(RENNELS_REDUCER, "D. C. Rennels, H. M. Hudson", 2012, "Pipe Flow: A Practical and Comprehensive Guide", \
      "pipe reducer: ends, angle, and 15 % more if eccentric; the loss of its cone by the conical laws", VENT_HOW_REPRINT) \
    X(CRANE_REDUCER, "Crane Co.", 2009, "Flow of Fluids Through Valves, Fittings, and Pipe, TP-410", \
      "conical changes of bore, with the ends of Rennels and Hudson's reducer", VENT_HOW_REPRINT) \
    X(CRANE_FLUSH, "Crane Co.", 2009, "Flow of Fluids Through Valves, Fittings, and Pipe, TP-410", \
      "sharp-edged entry flush with a wall", VENT_HOW_REPRINT) \
    X(MILLER_FLUSH, "D. S. Miller", 1990, "Internal Flow Systems, 2nd edition", \
      "sharp-edged entry flush with a wall, read from a digitised curve", VENT_HOW_REPRINT) \
    X(IDELCHIK_PROJECTING, "I. E. Idelchik", 1966, "Handbook of Hydraulic Resistance", \
      "diagram 3-1, pipe end of any wall in front of a wall, table", VENT_HOW_REPRINT) \
    X(MILLER_PROJECTING, "D. S. Miller", 1990, "Internal Flow Systems, 2nd edition", \
      "re-entrant entry by wall thickness, polynomial through a digitised curve", VENT_HOW_REPRINT) \
    X(CRANE_ROUNDED, "Crane Co.", 2009, "Flow of Fluids Through Valves, Fittings, and Pipe, TP-410", \
      "rounded entry flush with a wall, table", VENT_HOW_REPRINT) \
    X(MILLER_ROUNDED, "D. S. Miller", 1990, "Internal Flow Systems, 2nd edition", \
      "rounded entry flush with a wall, polynomial through a digitised curve", VENT_HOW_REPRINT) \
    X(RENNELS_BEVELLED, "D. C. Rennels, H. M. Hudson", 2012, "Pipe Flow: A Practical and Comprehensive Guide", \
      "bevelled entry flush with a wall", VENT_HOW_REPRINT) \
    X(RENNELS_ANGLED, "D. C. Rennels, H. M. Hudson", 2012, "Pipe Flow: A Practical and Comprehensive Guide", \
      "sharp-edged entry into a pipe at an angle to the wall", VENT_HOW_REPRINT) \
    X(IDELCHIK_ANGLED, "I. E. Idelchik", 1966, "Handbook of Hydraulic Resistance", \
      "sharp-edged entry into a pipe at an angle to the wall", VENT_HOW_MEMORY) \
    X(WEISBACH_ANGLED, "J. Weisbach", 1855, "Die Experimental-Hydraulik", \
      "entry into a pipe at an angle to the wall", VENT_HOW_MEMORY) \
    X(IDELCHIK_BELL, "I. E. Idelchik", 1966, "Handbook of Hydraulic Resistance", \
      "diagram 3-4, rounded entry without an end wall, table", VENT_HOW_REPRINT) \
    X(COLLECTING_PIPE, "momentum balance", 0, "Flow into a pipe through holes in its wall", \
      "orifice law at each hole, momentum along the pipe", VENT_HOW_COMPUTED) \
    X(EMITTING_PIPE, "energy balance", 0, "Flow out of a pipe through holes in its wall", \
      "orifice law at each hole, total pressure kept along the pipe", VENT_HOW_COMPUTED) \
    /* screens and terminations */ \
    X(BLEVINS_SCREEN, "R. D. Blevins", 1984, "Applied Fluid Dynamics Handbook", \
      "screens of round wires", VENT_HOW_REPRINT) \
    X(BRUNDRETT_SCREEN, "E. Brundrett", 1993, "Prediction of pressure drop for incompressible flow through screens, Journal of Fluids Engineering 115", \
      "wire screens square to the flow", VENT_HOW_MEMORY) \
    X(WIEGHARDT_SCREEN, "K. E. G. Wieghardt", 1953, "On the resistance of screens, Aeronautical Quarterly 4", \
      "wire screens", VENT_HOW_MEMORY) \
    X(IDELCHIK_THIN_PLATE, "I. E. Idelchik", 1966, "Handbook of Hydraulic Resistance", \
      "diagram 8-1, thin perforated plate with sharp edges", VENT_HOW_MEMORY) \
    X(BLEVINS_SQUARE, "R. D. Blevins", 1984, "Applied Fluid Dynamics Handbook", \
      "square-edged screens and perforated plates, table", VENT_HOW_REPRINT) \
    X(RENNELS_ORIFICE_EXIT, "D. C. Rennels, H. M. Hudson", 2012, "Pipe Flow: A Practical and Comprehensive Guide", \
      "discharge from a sharp-edged orifice at the end of a pipe; openings of other shapes by their free area", VENT_HOW_REPRINT) \
    X(IDELCHIK_GRID_EXIT, "I. E. Idelchik", 1966, "Handbook of Hydraulic Resistance", \
      "discharge from a straight pipe through an orifice or grid", VENT_HOW_MEMORY) \
    X(ORIFICE_ENTRY, "D. C. Rennels, H. M. Hudson", 2012, "Pipe Flow: A Practical and Comprehensive Guide", \
      "jet of the sharp-edged entry, spreading from the free area to the bore", VENT_HOW_COMPUTED) \
    X(IDELCHIK_GRID_ENTRY, "I. E. Idelchik", 1966, "Handbook of Hydraulic Resistance", \
      "entry into a pipe through an orifice or grid", VENT_HOW_MEMORY) \
    X(DRAIN_STACK, "American Conference of Governmental Industrial Hygienists", 2001, "Industrial Ventilation, 24th edition", \
      "stack head of no loss: a wider pipe around the end", VENT_HOW_MEMORY) \
    X(STACK_EJECTOR, "momentum balance", 0, "Jet from a pipe into a wider one open below and above", \
      "air drawn in around the end, mixed at the top", VENT_HOW_COMPUTED) \
    X(JOINING_STRAIGHT, "I. E. Idelchik", 2006, "Handbook of Hydraulic Resistance, 3rd edition", \
      "right-angled tees as equation 7-2; slanted branches by a form of this library through it and Crane (2009)", VENT_HOW_COMPUTED) \
    X(DIVIDING_STRAIGHT, "A. Gardel", 1957, "Pressure drops in flows through T-shaped pipe fittings, Bulletin Technique de la Suisse Romande 83", \
      "straight leg of diverging tees without what is left at no branch flow; beside narrow branches Crane (2009)", VENT_HOW_MEMORY) \
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
