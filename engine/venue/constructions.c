/* Roofs, walls and doors of common kinds by the figures of handbooks, octaves 63 .. 4000 Hz.
 *
 * T. D. Rossing (ed.), Springer Handbook of Acoustics, 2nd ed. 2014, table 11.4; ASHRAE Handbook,
 * HVAC Applications, 2019, ch. 49, table 40; D. A. Bies, C. H. Hansen, C. Q. Howard, Engineering
 * Noise Control, 5th ed. 2017, table 7.6. All as reference/envelope holds them. Limits: what is
 * built differs from its handbook's kind by several decibels either way. Where a source has no
 * 63 Hz, 6 dB less than at 125 Hz stands for it, as by the mass law. */
#include "gradin/acoustics/buildup.h"

#include <math.h>
#include <string.h>

static const double octave_step_db = 6.0;

#define ROSSING "Rossing (ed.) 2014, table 11.4"
#define ASHRAE "ASHRAE HVAC Applications 2019, ch. 49, table 40"
#define BIES "Bies, Hansen, Howard 2017, table 7.6"

static const gradin_construction construction[] = {
    {"steel_deck_cellulose",
     "corrugated steel roof with 25 mm sprayed cellulose",
     ROSSING,
     NAN,
     {NAN, 17, 22, 26, 30, 35, 41}},
    {"wood_shingle_roof", "wood plank shingled roof", ROSSING, NAN, {NAN, 29, 33, 37, 44, 55, 63}},
    {"wood_shingle_roof_lined",
     "same with 13 mm gypsum ceiling and 100 mm insulation",
     ROSSING,
     NAN,
     {NAN, 35, 42, 49, 62, 67, 79}},
    {"concrete_100", "100 mm reinforced concrete", BIES, 230, {32, 37, 36, 45, 52, 59, 62}},
    {"concrete_150", "150 mm concrete floor", ASHRAE, NAN, {40, 40, 40, 49, 58, 67, 76}},
    {"concrete_200", "200 mm reinforced concrete", BIES, 460, {36, 42, 41, 50, 57, 60, 65}},
    {"concrete_300", "300 mm reinforced concrete", BIES, 690, {37, 40, 45, 52, 59, 63, 67}},
    {"block_200", "200 mm concrete block", ASHRAE, NAN, {35, 35, 41, 44, 50, 57, 64}},
    {"brick_102", "102 mm brick", ROSSING, NAN, {NAN, 32, 34, 40, 47, 55, 61}},
    {"brick_125_plastered",
     "125 mm brick plastered both sides",
     BIES,
     240,
     {30, 36, 37, 40, 46, 54, 57}},
    {"brick_255_plastered",
     "255 mm brick plastered both sides",
     BIES,
     480,
     {34, 41, 45, 48, 56, 65, 69}},
    {"fluted_steel_1_2",
     "1.2 mm fluted steel panels stiffened joints sealed",
     BIES,
     39,
     {25, 30, 20, 22, 30, 28, 31}},
    {"steel_sheet_0_9", "0.9 mm galvanised steel sheet", BIES, 7, {3, 8, 14, 20, 26, 32, 38}},
    {"steel_sheet_1_6", "1.6 mm galvanised steel sheet", BIES, 13, {9, 14, 21, 27, 32, 37, 43}},
    {"wood_door_44", "solid wood door 44 mm", ROSSING, NAN, {NAN, 29, 31, 31, 31, 39, 43}},
    {"metal_door_44", "hollow metal door 44 mm", ROSSING, NAN, {NAN, 24, 23, 29, 31, 24, 40}},
    {"metal_door_35", "2-skin metal door 35 mm", BIES, 16, {NAN, 26, 26, 28, 32, 32, 40}},
    {"acoustic_door_100",
     "acoustic door 100 mm double steel skin",
     BIES,
     NAN,
     {37, 36, 39, 44, 49, 54, 57}}};

enum { N_CONSTRUCTION = sizeof construction / sizeof construction[0] };

const gradin_construction *gradin_constructions(int *n) {
    if (n) *n = N_CONSTRUCTION;
    return construction;
}

const gradin_construction *gradin_construction_find(const char *name) {
    for (int i = 0; name && i < N_CONSTRUCTION; i++)
        if (strcmp(construction[i].name, name) == 0) return &construction[i];
    return NULL;
}

void gradin_buildup_be(gradin_buildup *buildup, const gradin_construction *of) {
    if (!buildup || !of) return;
    buildup->is_measured = buildup->is_octave = true;
    buildup->generic = of->name;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double db = of->octave_db[b / 3];
        buildup->measured_r_db[b] = isnan(db) ? of->octave_db[1] - octave_step_db : db;
    }
}
