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
