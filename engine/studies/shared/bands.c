/* Levels by octave and third octave at every seat, from the bands of its maximum. */
#include "studies/shared/bands.h"
#include "base/use.h"

#include "studies/shared/spread.h"

static gradin_status alloc_level(gradin_arena *arena, int n_seat, gradin_band_level *level) {
    level->level_db = gradin_arena_alloc(arena, (size_t)n_seat, sizeof(double));
    return level->level_db ? GRADIN_OK : GRADIN_NO_MEMORY;
}

static gradin_status judge(gradin_arena *arena, int n_seat, double confidence, double adds_db,
                           gradin_band_level *level) {
    level->verdict = gradin_arena_alloc(arena, (size_t)n_seat, sizeof *level->verdict);
    for (int seat = 0; level->verdict && seat < n_seat; seat++)
        level->verdict[seat] = gradin_verdict_despite(level->level_db[seat] - level->limit_db,
                                                      adds_db, level->uncertainty_db, confidence);
    return level->verdict ? GRADIN_OK : GRADIN_NO_MEMORY;
}

static gradin_status fill_octave(gradin_arena *arena, const double *band_db, int n_seat,
                                 const gradin_criterion *criterion,
                                 const gradin_uncertainty *uncertainty, const gradin_gaps *gaps,
                                 int octave, gradin_band_level *level) {
    *level = (gradin_band_level){
        .nominal_hz = gradin_octave_nominal_hz(octave),
        .is_octave = true,
        .uncertainty_db = gradin_band_uncertainty_db(uncertainty, 3 * octave, 3 * octave + 2),
        .limit_db = isnan(criterion->nc) ? NAN : gradin_nc_level_db(criterion->nc, octave)};
    gradin_status status = alloc_level(arena, n_seat, level);
    for (int seat = 0; seat < n_seat && status == GRADIN_OK; seat++) {
        double octave_db[GRADIN_N_OCTAVE];
        gradin_octaves_db(band_db + (size_t)seat * GRADIN_N_BAND, octave_db);
        level->level_db[seat] = octave_db[octave];
    }
    if (status == GRADIN_OK && !isnan(level->limit_db))
        status = judge(arena, n_seat, criterion->confidence, gaps->adds_octave_db[octave], level);
    return status == GRADIN_OK ? studies_spread(arena, level->level_db, n_seat, &level->spread)
                               : status;
}

static gradin_status fill_third(gradin_arena *arena, const double *band_db, int n_seat,
                                const gradin_uncertainty *uncertainty, int band,
                                gradin_band_level *level) {
    *level =
        (gradin_band_level){.nominal_hz = gradin_band_nominal_hz(band),
                            .limit_db = (double)NAN,
                            .uncertainty_db = gradin_band_uncertainty_db(uncertainty, band, band)};
    gradin_status status = alloc_level(arena, n_seat, level);
    for (int seat = 0; seat < n_seat && status == GRADIN_OK; seat++)
        level->level_db[seat] = band_db[(size_t)seat * GRADIN_N_BAND + (size_t)band];
    return status == GRADIN_OK ? studies_spread(arena, level->level_db, n_seat, &level->spread)
                               : status;
}

gradin_status gradin_band_levels(gradin_arena *arena, const double *band_db, int n_seat,
                                 const gradin_criterion *criterion,
                                 const gradin_uncertainty *uncertainty, const gradin_gaps *gaps,
                                 const gradin_band_choice *choice, gradin_band_level **level,
                                 int *n_level, gradin_error *error) {
    if (NEEDS(error, arena, band_db, criterion, uncertainty, gaps, choice, level, n_level) !=
        GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_status status = GRADIN_OK;
    gradin_band_level *made =
        gradin_arena_alloc(arena, GRADIN_N_OCTAVE + GRADIN_N_BAND, sizeof *made);
    int n = 0;
    if (!made) status = GRADIN_NO_MEMORY;
    for (int o = 0; o < GRADIN_N_OCTAVE && status == GRADIN_OK; o++)
        if (choice->octave[o])
            status =
                fill_octave(arena, band_db, n_seat, criterion, uncertainty, gaps, o, &made[n++]);
    for (int b = 0; b < GRADIN_N_BAND && status == GRADIN_OK; b++)
        if (choice->third[b])
            status = fill_third(arena, band_db, n_seat, uncertainty, b, &made[n++]);
    if (status != GRADIN_OK)
        return gradin_error_add(error, status, NULL, "no memory for levels by band");
    *level = made;
    *n_level = n;
    return GRADIN_OK;
}

bool studies_has_shades(const gradin_model *model) {
    for (int i = 0; i < model->n_element; i++)
        if (model->element[i].shade >= 0) return true;
    return false;
}

gradin_status studies_difference(gradin_arena *arena, const double *a, const double *b, int n,
                                 double **difference, gradin_spread *spread) {
    *difference = gradin_arena_alloc(arena, (size_t)n, sizeof **difference);
    if (!*difference) return GRADIN_NO_MEMORY;
    for (int i = 0; i < n; i++) (*difference)[i] = a[i] - b[i];
    return studies_spread(arena, *difference, n, spread);
}
