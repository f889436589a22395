/* The voice beside each state of the hall's own noise: ventilation low or high.
 *
 * Louder own noise masks the voice, so that more seats lack the index before anything flies over,
 * and masks the flights, so that those which still have it may lose fewer words. Both are told. */
#include "studies/season/season.h"

#include "studies/shared/spread.h"

/* Seconds lost at a seat to its worst class on its track; NAN where the index is lacking. */
static double worst_lost_s(const gradin_season *s, size_t at) {
    double lost_s = s->voice.sii[at] < s->traffic->sii_least ? NAN : 0.0;
    for (int k = 0; k < s->n_flight; k++)
        if (s->flight[k].lost_s[at] > lost_s) lost_s = s->flight[k].lost_s[at];
    return lost_s;
}

static gradin_status fill(gradin_arena *arena, const gradin_season *s, int k,
                          gradin_season_background *made) {
    const gradin_background *from = &s->traffic->background[k];
    int n = s->model->seats.n_seat;
    double level_db[GRADIN_N_BAND], octave_db[GRADIN_N_OCTAVE];
    size_t first = (size_t)k * (size_t)n;
    double *lost_s = gradin_arena_alloc(arena, (size_t)n, sizeof *lost_s);
    if (!lost_s) return GRADIN_NO_MEMORY;
    gradin_background_levels(from, level_db);
    gradin_octaves_db(level_db, octave_db);
    *made = (gradin_season_background){.name = from->name,
                                       .level_dba = gradin_background_dba(from),
                                       .nc = gradin_nc(octave_db, NULL)};
    for (int seat = 0; seat < n; seat++) {
        lost_s[seat] = worst_lost_s(s, first + (size_t)seat);
        made->n_lacking += isnan(lost_s[seat]);
    }
    gradin_status status = studies_spread(arena, s->voice.sii + first, n, &made->sii);
    return status == GRADIN_OK ? studies_spread(arena, lost_s, n, &made->lost_s) : status;
}

gradin_status season_backgrounds(gradin_arena *arena, gradin_season *season) {
    int n = season->traffic->n_background;
    gradin_status status = GRADIN_OK;
    if (n == 0) return GRADIN_OK;
    season->background = gradin_arena_alloc(arena, (size_t)n, sizeof *season->background);
    if (!season->background) return GRADIN_NO_MEMORY;
    season->n_background = n;
    for (int k = 0; k < n && status == GRADIN_OK; k++)
        status = fill(arena, season, k, &season->background[k]);
    return status;
}
