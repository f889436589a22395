/* Ratings of whole spectra. */
#include <criterion/criterion.h>

#include "gradin/acoustics/noise_rating.h"
#include "support/reference.h"
#include "unit/acoustics/csv.h"

enum { BAND_160 = 11, BAND_5K = 26, BAND_8K = 28, BAND_25 = 3 };

static void clear(gradin_spectrum *spectrum) {
    *spectrum = (gradin_spectrum){.name = "noise"};
    for (int b = 0; b < GRADIN_N_WIDE_BAND; b++) spectrum->level_db[b] = NAN;
}

static gradin_spectrum_rating rate(const gradin_spectrum *noise, const gradin_spectrum *speech) {
    gradin_spectra spectra = {.spectrum = noise, .n_spectrum = 1};
    gradin_spectrum_sheet sheet;
    gradin_arena *arena = gradin_arena_create();
    cr_assert(gradin_spectra_rate(arena, &spectra, speech, GRADIN_EFFORT_NORMAL, &sheet, NULL) ==
              GRADIN_OK);
    gradin_spectrum_rating rating = sheet.rating[0];
    gradin_arena_destroy(arena);
    return rating;
}

/* Band level of a spectrum level: 10 lg of the width of a base-10 third at nominal 160 Hz and up
 * (IEC 61260-1). */
static double band_level(double spectrum_db, int band) {
    double middle = pow(10.0, (band - 19) / 10.0) * 1000.0;
    return spectrum_db + 10.0 * log10(middle * (pow(10.0, 0.05) - pow(10.0, -0.05)));
}

/* ANSI S3.5-1997 Annex C.2 and standard speech in quiet (reference/ansi-s3-5), given as spectra of
 * band levels. */
Test(spectrum, speech_intelligibility_of_the_worked_example) {
    reference table;
    reference_read("ansi-s3-5/sii.csv", &table);
    for (int row = 0; row < table.n_row; row++) {
        gradin_spectrum noise, speech;
        clear(&noise);
        clear(&speech);
        const char *head[4] = {"noise_160_db", "noise_200_db", "noise_250_db", "noise_above_db"};
        bool is_standard = reference_text(&table, row, "speech_db")[0] == '\0';
        for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++) {
            int band = BAND_160 + i;
            noise.level_db[band] =
                band_level(reference_number(&table, row, head[i < 3 ? i : 3]), band);
            if (!is_standard)
                speech.level_db[band] =
                    band_level(reference_number(&table, row, "speech_db"), band);
        }
        double wanted = reference_number(&table, row, "expected_sii");
        double got = rate(&noise, is_standard ? NULL : &speech).sii;
        cr_assert(fabs(got - wanted) < 1e-6, "%s: %.9f", table.cell[row][0], got);
    }
    cr_assert(table.n_row == 2);
}

/* One band alone has its level and the tabled weight (IEC 61672-1, reference/iec-61672). */
Test(spectrum, a_weighting_of_each_band) {
    csv table = csv_read("iec-61672/a-weighting.csv", 27, 3);
    for (int i = 0; i < table.n_row; i++) {
        gradin_spectrum noise;
        clear(&noise);
        cr_assert(gradin_wide_nominal_hz(BAND_25 + i) == table.cell[i][0]);
        noise.level_db[BAND_25 + i] = 70.0;
        double wanted_db = 70.0 + table.cell[i][2], got_db = rate(&noise, NULL).a_db;
        cr_assert(fabs(got_db - wanted_db) < 0.06, "%g Hz: %.3f", table.cell[i][0], got_db);
    }
}

/* Thirds of one level: octaves are 10 lg 3 above them, and the interference level is their mean.
 * The highest frequency is the strictest of NC and NR for such noise. */
Test(spectrum, thirds_make_octaves) {
    gradin_spectrum noise;
    clear(&noise);
    for (int b = 0; b <= BAND_8K + 1; b++) noise.level_db[b] = 40.0;
    noise.level_db[BAND_5K] = 30.0;
    gradin_spectrum_rating r = rate(&noise, NULL);
    double whole_db = 40.0 + 10.0 * log10(3.0), less_db = 40.0 + 10.0 * log10(2.1);
    for (int k = 0; k < GRADIN_N_WIDE_OCTAVE - 1; k++)
        cr_assert(fabs(r.octave_db[k] - (k == 8 ? less_db : whole_db)) < 1e-9, "octave %d", k);
    cr_assert(isnan(r.octave_db[10]) && r.first_band == 0 && r.last_band == BAND_8K + 1);
    cr_assert(fabs(r.sil_db - (3.0 * whole_db + less_db) / 4.0) < 1e-9, "%.4f", r.sil_db);
    cr_assert(fabs(r.nc.value - gradin_room_nc((const double[10]){[9] = whole_db}, NULL)) < 1e-9);
    cr_assert(r.nc.octave == 9 && r.nc.first == 0 && r.nc.last == 9);
    cr_assert(fabs(r.nr.value - (whole_db + 8.0) / 1.03) < 1e-9 && r.nr.octave == 9);
    cr_assert(r.nr.first == 1 && r.nr.last == 9 && !r.is_top_held);
}

/* Each rating stands where its bands do: an octave short of them there is none. */
Test(spectrum, what_the_bands_allow) {
    gradin_spectrum noise;
    clear(&noise);
    noise.is_octave = true;
    for (int k = 4; k <= 7; k++) noise.level_db[3 * k + 1] = 40.0;
    gradin_spectrum_rating r = rate(&noise, NULL);
    cr_assert(isnan(r.nc.value) && isnan(r.nr.value) && isnan(r.sii) && isnan(r.sil_db));
    noise.level_db[3 * 8 + 1] = 40.0;
    r = rate(&noise, NULL);
    cr_assert(isnan(r.nc.value) && isnan(r.sii) && r.sil_db == 40.0 && r.nc.octave == -1);
    noise.level_db[3 * 3 + 1] = 40.0;
    r = rate(&noise, NULL);
    cr_assert(fabs(r.nc.value - 42.0) < 1e-9 && r.nc.octave == 8 && r.nc.first == 3, "%g",
              r.nc.value);
    cr_assert(r.nc.last == 8 && r.nr.first == 3 && r.nr.last == 8 && r.is_top_held);
    cr_assert(r.sii > 0.0 && r.sii < 1.0);
}

/* An octave stands for noise that is even over its width: thirds in it of the same spectrum level
 * are rated alike. */
Test(spectrum, octaves_are_spread_evenly) {
    gradin_spectrum octaves, thirds;
    clear(&octaves);
    clear(&thirds);
    octaves.is_octave = true;
    for (int b = 9; b < 30; b++) {
        double octave_hz = pow(10.0, 0.3 * (b / 3 - 6)) * 1000.0;
        double width_hz = octave_hz * (pow(10.0, 0.15) - pow(10.0, -0.15));
        thirds.level_db[b] = band_level(45.0 - b / 3 - 10.0 * log10(width_hz), b);
        octaves.level_db[3 * (b / 3) + 1] = 45.0 - b / 3;
    }
    cr_assert(fabs(rate(&octaves, NULL).sii - rate(&thirds, NULL).sii) < 1e-12);
    cr_assert(fabs(rate(&octaves, NULL).octave_db[5] - rate(&thirds, NULL).octave_db[5]) < 1e-9);
}

Test(spectrum, refusals) {
    gradin_spectrum noise;
    gradin_spectrum_sheet sheet;
    gradin_arena *arena = gradin_arena_create();
    clear(&noise);
    noise.level_db[BAND_8K] = 40.0;
    gradin_spectra spectra = {.spectrum = &noise, .n_spectrum = 1};
    cr_assert(gradin_spectra_rate(arena, &spectra, &noise, GRADIN_EFFORT_NORMAL, &sheet, NULL) ==
              GRADIN_BAD_INPUT);
    cr_assert(gradin_spectra_rate(arena, &spectra, NULL, GRADIN_N_EFFORT, &sheet, NULL) ==
              GRADIN_BAD_USE);
    spectra.n_spectrum = GRADIN_MAX_SPECTRUM + 1;
    cr_assert(gradin_spectra_rate(arena, &spectra, NULL, GRADIN_EFFORT_NORMAL, &sheet, NULL) ==
              GRADIN_BAD_USE);
    gradin_arena_destroy(arena);
}
