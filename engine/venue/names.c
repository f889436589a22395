/* English names of enumerations, nominal names of the bands. */
#include "gradin/acoustics/spectrum.h"
#include "gradin/layout.h"

const char *gradin_seat_kind_name(gradin_seat_kind kind) {
    static const char *const name[] = {"seat", "wheelchair", "companion"};
    return kind <= GRADIN_SEAT_COMPANION ? name[kind] : "none";
}

const char *gradin_rating_name(gradin_rating rating) {
    static const char *const name[GRADIN_N_RATING] = {"clear", "good", "fair", "poor"};
    return rating < GRADIN_N_RATING ? name[rating] : "none";
}

const char *gradin_use_name(gradin_use use) {
    static const char *const name[GRADIN_N_USE] = {"seated", "open floor", "stage"};
    return use < GRADIN_N_USE ? name[use] : "none";
}

const char *gradin_form_name(gradin_form form) {
    static const char *const name[] = {"end stage", "thrust",     "in the round",
                                       "traverse",  "flat floor", "custom"};
    return form <= GRADIN_FORM_CUSTOM ? name[form] : "none";
}

const char *gradin_focus_kind_name(gradin_focus_kind kind) {
    static const char *const name[] = {"floor", "upright", "point"};
    return kind <= GRADIN_FOCUS_POINT ? name[kind] : "none";
}

int gradin_band_nominal_hz(int band) {
    static const int nominal_hz[GRADIN_N_BAND] = {50,   63,   80,   100,  125,  160,  200,
                                                  250,  315,  400,  500,  630,  800,  1000,
                                                  1250, 1600, 2000, 2500, 3150, 4000, 5000};
    return band >= 0 && band < GRADIN_N_BAND ? nominal_hz[band] : 0;
}

double gradin_wide_nominal_hz(int band) {
    static const double below_hz[] = {12.5, 16, 20, 25, 31.5, 40};
    static const double above_hz[] = {6300, 8000, 10000, 12500, 16000, 20000};
    enum { N_BELOW = sizeof below_hz / sizeof *below_hz };
    if (band < 0 || band >= GRADIN_N_WIDE_BAND) return 0.0;
    if (band < N_BELOW) return below_hz[band];
    int third = band - N_BELOW;
    return third < GRADIN_N_BAND ? gradin_band_nominal_hz(third) : above_hz[third - GRADIN_N_BAND];
}

const char *gradin_maximum_name(gradin_time_weighting weighting) {
    static const char *const name[GRADIN_N_WEIGHTING] = {"LAmax", "LAFmax", "LASmax"};
    return weighting < GRADIN_N_WEIGHTING ? name[weighting] : "none";
}
