/* What a study may ask of a point: word, unit, and the stage that works it out. */
#include "gradin/study.h"

const char *gradin_varied_file_name(gradin_varied_file file) {
    static const char *const name[GRADIN_N_VARIED_FILE] = {"venue", "layout", "traffic", "brief",
                                                           "overflight"};
    return file < GRADIN_N_VARIED_FILE ? name[file] : "unknown";
}

#define SIGHT(word, unit, digits, more, meaning)                                                   \
    { word, unit, meaning, GRADIN_STAGE_SIGHT, digits, more }
#define OF(which, word, unit, digits, more, meaning)                                               \
    { word, unit, meaning, GRADIN_STAGE_##which, digits, more }

static const gradin_study_figure_form forms[GRADIN_N_STUDY_FIGURE] = {
    SIGHT("seats", "", 0, true, "seats, wheelchair places with them"),
    SIGHT("wheelchairs", "", 0, true, "wheelchair places"),
    SIGHT("clear", "", 0, true, "seats rated clear"),
    SIGHT("good", "", 0, true, "seats rated good"),
    SIGHT("fair", "", 0, false, "seats rated fair"),
    SIGHT("poor", "", 0, false, "seats rated poor"),
    SIGHT("clear_share", "", 4, true, "share of the seats that is rated clear"),
    SIGHT("good_share", "", 4, true, "share of the seats that is rated clear or good"),
    SIGHT("poor_share", "", 4, false, "share of the seats that is rated poor"),
    SIGHT("visible_p10", "", 4, true, "share of the focus that a tenth of the seats sees less of"),
    SIGHT("visible_median", "", 4, true, "share of the focus that the median seat sees"),
    SIGHT("c_p10_mm", "mm", 0, true, "C-value that a tenth of the seats lacks"),
    SIGHT("c_median_mm", "mm", 0, true, "C-value of the median seat"),
    SIGHT("c_p90_mm", "mm", 0, true, "C-value that a tenth of the seats exceeds"),
    SIGHT("distance_p90_m", "m", 3, false, "to the focus, from nine seats in ten at most"),
    SIGHT("distance_most_m", "m", 3, false, "to the focus from the farthest seat"),
    OF(PASS, "lamax_median_dba", "dB(A)", 1, false, "highest level of the overflight, median seat"),
    OF(PASS, "lamax_p90_dba", "dB(A)", 1, false, "the same at the seat that a tenth exceeds"),
    OF(PASS, "lamax_most_dba", "dB(A)", 1, false, "the same at the loudest seat"),
    OF(PASS, "nc_p90", "", 0, false, "NC of the overflight at the seat that a tenth exceeds"),
    OF(SEASON, "events", "per show", 3, false,
       "events over the limit expected in a show, at the seat of the study's percentile"),
    OF(SEASON, "events_mean", "per show", 3, false, "the same, mean of the seats"),
    OF(SEASON, "words_lost_s", "s", 1, false,
       "seconds of words that the worst class takes, at the seat of the percentile"),
    OF(CHANGEOVER, "changeover_minutes", "min", 0, false,
       "changeover with the partner's layout, the longer way"),
    OF(CHANGEOVER, "crew_hours", "h", 1, false, "work of both changeovers, person-hours"),
    OF(GLASS, "glass_kg_m2", "kg/m2", 1, false, "mass of the panes, mean of their area"),
    OF(GLASS, "glass_t", "t", 2, false, "mass of all panes")};

const gradin_study_figure_form *gradin_study_figure_of(gradin_study_figure figure) {
    return figure < GRADIN_N_STUDY_FIGURE ? &forms[figure] : NULL;
}
