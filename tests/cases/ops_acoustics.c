/* Operations of the text cases on acoustics: bands, ratings, curves of room noise, air, closed
 * forms of glazing, facade and room. A band is given by its step n from 1 kHz: f = 1000 * 10^(n/10)
 * Hz. */
#include "acoustics/room/room.h"
#include "case.h"
#include "gradin/acoustics.h"
#include "support/formulas.h"

enum { N_THIRD = 16, BAND_1K = 13, OCTAVE_1K = 4, N_PART = 4 };

static double exact_hz(double step) {
    return 1000.0 * pow(10.0, step / 10.0);
}
static double run_band_mid(const double *in) {
    return gradin_band_mid_hz(BAND_1K + (int)in[0]);
}
static double run_band_nominal(const double *in) {
    return gradin_band_nominal_hz(BAND_1K + (int)in[0]);
}
static double run_octave_mid(const double *in) {
    return gradin_octave_mid_hz(OCTAVE_1K + (int)in[0]);
}
static double run_octave_nominal(const double *in) {
    return gradin_octave_nominal_hz(OCTAVE_1K + (int)in[0]);
}
static double run_a_weight(const double *in) {
    return gradin_a_weight_db(exact_hz(in[0]));
}
static double run_level_a(const double *in) {
    return gradin_level_a_db(in);
}
static double run_level_sum(const double *in) {
    return gradin_level_sum_db(in, 3);
}
static double run_octave_level(const double *in) {
    double octave_db[GRADIN_N_OCTAVE];
    gradin_octaves_db(in, octave_db);
    return octave_db[OCTAVE_1K + (int)in[GRADIN_N_BAND]];
}

static double run_rw(const double *in) {
    return gradin_rate_thirds(in).rating_db;
}
static double run_c(const double *in) {
    return gradin_rate_thirds(in).c_db;
}
static double run_ctr(const double *in) {
    return gradin_rate_thirds(in).ctr_db;
}
static double run_x_c(const double *in) {
    return gradin_rate_thirds(in).x_c_db;
}
static double run_x_ctr(const double *in) {
    return gradin_rate_thirds(in).x_ctr_db;
}
static double run_shift(const double *in) {
    return gradin_rate_thirds(in).shift_db;
}
static double run_unfavourable(const double *in) {
    return gradin_rate_thirds(in).unfavourable_sum_db;
}
static double run_deviation(const double *in) {
    return gradin_rate_thirds(in).deviation_db[(int)in[N_THIRD]];
}
static double run_rw_octaves(const double *in) {
    return gradin_rate_octaves(in).rating_db;
}
static double run_c_octaves(const double *in) {
    return gradin_rate_octaves(in).c_db;
}
static double run_ctr_octaves(const double *in) {
    return gradin_rate_octaves(in).ctr_db;
}
static double run_unfavourable_octaves(const double *in) {
    return gradin_rate_octaves(in).unfavourable_sum_db;
}
static double run_stc(const double *in) {
    return gradin_stc(in, 0);
}
static double run_stc_band(const double *in) {
    int band;
    gradin_stc(in, &band);
    return band;
}
static double run_oitc(const double *in) {
    return gradin_oitc(in);
}

static double run_nr_level(const double *in) {
    return gradin_nr_level_db(in[0], (int)in[1]);
}
static double run_nc_level(const double *in) {
    return gradin_nc_level_db(in[0], (int)in[1]);
}
static double run_nc(const double *in) {
    return gradin_nc(in, 0);
}
static double run_nc_octave(const double *in) {
    int octave;
    gradin_nc(in, &octave);
    return octave;
}

static double run_air_absorption(const double *in) {
    return gradin_air_absorption_dbm(exact_hz(in[0]), in[1], in[2], in[3] / 1000.0);
}
static double run_air_speed(const double *in) {
    return gradin_air_speed_ms(in[0]);
}
static double run_room_air(const double *in) {
    return gradin_room_air_4m(in[0]);
}

static double run_critical(const double *in) {
    return formula_critical_hz(in[0], in[1], in[2], in[3], in[4]);
}
static double run_mass_air_mass(const double *in) {
    return formula_mass_air_mass_hz(in[0], in[1], in[2], in[3], in[4]);
}
/* a = pi f m/(rho c) at 413.3 kg/(m2 s), air of 20 degC. */
static double mass_a(const double *in) {
    return GRADIN_PI * in[1] * in[0] / (GRADIN_AIR_DENSITY_KGM3 * GRADIN_AIR_SPEED_MS);
}
static double run_mass_law_normal(const double *in) {
    return formula_mass_law_normal_db(mass_a(in));
}
static double run_mass_law_diffuse(const double *in) {
    return formula_mass_law_diffuse_db(mass_a(in), in[2]);
}

static double run_composite_r(const double *in) {
    double part_m2[N_PART];
    for (int i = 0; i < N_PART; i++) part_m2[i] = in[i] * pow(10.0, -0.1 * in[N_PART + i]);
    return gradin_composite_r_db(part_m2, N_PART, in[2 * N_PART]);
}
static double run_d2m_nt(const double *in) {
    return gradin_d2m_nt_db(in[0], in[1], in[2], in[3]);
}
static double run_eyring(const double *in) {
    return gradin_eyring_m2(in[0], in[1], in[2], in[3]);
}
static double run_reverberation(const double *in) {
    return gradin_reverberation_s(in[0], in[1]);
}
static double run_rectangle_angle(const double *in) {
    return gradin_rectangle_sr(in[0], in[1], in[2], in[3], in[4]);
}

const case_operation case_acoustics[] = {
    {"band_mid", "step", run_band_mid},
    {"band_nominal", "step", run_band_nominal},
    {"octave_mid", "octave", run_octave_mid},
    {"octave_nominal", "octave", run_octave_nominal},
    {"a_weight", "step", run_a_weight},
    {"level_a", "band*21", run_level_a},
    {"level_sum", "level*3", run_level_sum},
    {"octave_level", "band*21 octave", run_octave_level},
    {"rw", "r*16", run_rw},
    {"c", "r*16", run_c},
    {"ctr", "r*16", run_ctr},
    {"x_c", "r*16", run_x_c},
    {"x_ctr", "r*16", run_x_ctr},
    {"shift", "r*16", run_shift},
    {"unfavourable", "r*16", run_unfavourable},
    {"deviation", "r*16 band", run_deviation},
    {"rw_octaves", "r*5", run_rw_octaves},
    {"c_octaves", "r*5", run_c_octaves},
    {"ctr_octaves", "r*5", run_ctr_octaves},
    {"unfavourable_octaves", "r*5", run_unfavourable_octaves},
    {"stc", "tl*16", run_stc},
    {"stc_band", "tl*16", run_stc_band},
    {"oitc", "tl*18", run_oitc},
    {"nr_level", "nr octave", run_nr_level},
    {"nc_level", "nc octave", run_nc_level},
    {"nc", "level*7", run_nc},
    {"nc_octave", "level*7", run_nc_octave},
    {"air_absorption", "step temperature humidity pressure", run_air_absorption},
    {"air_speed", "temperature", run_air_speed},
    {"room_air", "f", run_room_air},
    {"critical", "thickness density young poisson speed", run_critical},
    {"mass_air_mass", "m1 m2 gap rho speed", run_mass_air_mass},
    {"mass_law_normal", "m f", run_mass_law_normal},
    {"mass_law_diffuse", "m f limit", run_mass_law_diffuse},
    {"composite_r", "s*4 r*4 area", run_composite_r},
    {"d2m_nt", "r shape volume area", run_d2m_nt},
    {"eyring", "area alpha volume air", run_eyring},
    {"reverberation", "volume absorption", run_reverberation},
    {"rectangle_angle", "x0 x1 y0 y1 z", run_rectangle_angle},
    {0},
};
