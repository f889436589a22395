/* NC of seats.
 *
 * The curves are those of ANSI/ASA S12.2-2019 (room_criteria.c) from 63 Hz to 8 kHz. The NC of a
 * seat's spectrum is the highest curve that it touches (tangency) in the octaves that are worked
 * out, 63 to 4000 Hz. Limits: an octave outside the curves' range gives NAN; NC outside 15 to 70 is
 * held there. */
#include "gradin/acoustics.h"
#include "gradin/acoustics/noise_rating.h"

enum {
    NC_FIRST = 2, /* 63 Hz among the octaves of the curves */
    N_NC = 12,
    NC_LOW = 15,
    NC_STEP = 5,
    NC_HIGH = 70
};

double gradin_nc_level_db(double nc, int octave) {
    return octave < 0 ? NAN : gradin_room_nc_level_db(nc, octave + NC_FIRST);
}

static double tabled_db(int i, int octave) {
    return gradin_nc_level_db(NC_LOW + NC_STEP * i, octave);
}

/* The curve through one octave's level; the end curves' slopes go on outside the table. */
static double curve_through(double level_db, int octave) {
    int i = 0;
    while (i < N_NC - 2 && level_db >= tabled_db(i + 1, octave)) i++;
    double low_db = tabled_db(i, octave), step_db = tabled_db(i + 1, octave) - low_db;
    return NC_LOW + NC_STEP * (i + (level_db - low_db) / step_db);
}

double gradin_nc(const double *octave_db, int *octave) {
    double highest = curve_through(octave_db[0], 0);
    int at = 0;
    for (int k = 1; k < GRADIN_N_OCTAVE; k++) {
        double nc = curve_through(octave_db[k], k);
        if (!(nc > highest)) continue;
        highest = nc;
        at = k;
    }
    if (octave) *octave = at;
    return fmax(fmin(highest, NC_HIGH), NC_LOW);
}
