/* Ratings of spectra for a terminal: levels by band, one column per spectrum under a letter, then
 * what each is rated. A page wide. */
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"
#include "table/shared/text.h"

enum { PER_BLOCK = 9, COLUMN = 8, NAME_COLUMNS = 60 };

static const char *const effort_name[GRADIN_N_EFFORT] = {"normal", "raised", "loud", "shouting"};

static void put_row(table_text *out, const gradin_spectrum_sheet *sheet, int first, int last,
                    int band) {
    bool is_given = false;
    for (int i = first; i < last; i++)
        is_given |= !isnan(sheet->rating[i].spectrum->level_db[band]);
    if (!is_given) return;
    table_print(out, "%8g", gradin_wide_nominal_hz(band));
    for (int i = first; i < last; i++)
        table_put_right(out, TABLE_DECIBEL, sheet->rating[i].spectrum->level_db[band], COLUMN);
    table_put(out, "\n");
}

static void put_bands(table_text *out, const gradin_spectrum_sheet *sheet) {
    int n = sheet->source->n_spectrum;
    for (int first = 0; first < n; first += PER_BLOCK) {
        int last = first + PER_BLOCK < n ? first + PER_BLOCK : n;
        table_put(out, "\nband, Hz");
        for (int i = first; i < last; i++) table_print(out, "%*c", COLUMN, 'A' + i);
        table_put(out, "\n");
        for (int band = 0; band < GRADIN_N_WIDE_BAND; band++)
            put_row(out, sheet, first, last, band);
    }
}

static double octave_hz(int octave) {
    return gradin_wide_nominal_hz(3 * octave + 1);
}

static void put_criterion(table_text *out, const char *name, const gradin_criterion_rating *rating,
                          const char *least, const char *most) {
    if (isnan(rating->value)) {
        table_print(out, "     no %s: it needs the octaves 125 to 4000 Hz\n", name);
        return;
    }
    table_print(out, "     %s ", name);
    if (isinf(rating->value))
        table_put(out, rating->value < 0.0 ? least : most);
    else
        table_put_number(out, TABLE_DECIBEL, rating->value);
    if (rating->octave >= 0) table_print(out, ", set by %g Hz", octave_hz(rating->octave));
    table_print(out, "; octaves %g to %g Hz\n", octave_hz(rating->first), octave_hz(rating->last));
}

static void put_speech(table_text *out, const gradin_spectrum_sheet *sheet,
                       const gradin_spectrum_rating *rating) {
    if (isnan(rating->sii)) {
        table_print(out, "     no SII: it needs %s\n",
                    rating->spectrum->is_octave ? "the octaves 125 to 4000 Hz"
                                                : "the thirds 160 to 5000 Hz");
        return;
    }
    table_print(out, "     SII ");
    table_put_number(out, TABLE_INDEX, rating->sii);
    if (sheet->speech)
        table_put(out, ", of the speech given");
    else
        table_print(out, ", of a %s voice 1 m away", effort_name[sheet->effort]);
    if (rating->is_top_held) table_put(out, "; above 5 kHz the noise is taken as at 5 kHz");
    table_put(out, "\n");
}

static void put_rating(table_text *out, const gradin_spectrum_sheet *sheet, int index) {
    const gradin_spectrum_rating *rating = &sheet->rating[index];
    const gradin_spectrum *spectrum = rating->spectrum;
    table_print(out, "\n  %c  ", 'A' + index);
    table_put_fitted(out, spectrum->name ? spectrum->name : "as given", NAME_COLUMNS, false);
    table_print(out, ", %s %g to %g Hz\n     ", spectrum->is_octave ? "octaves" : "thirds",
                gradin_wide_nominal_hz(rating->first_band),
                gradin_wide_nominal_hz(rating->last_band));
    table_put_number(out, TABLE_DECIBEL, rating->a_db);
    table_put(out, " dB(A)\n");
    put_criterion(out, "NC", &rating->nc, "below 15", "above 70");
    put_criterion(out, "NR", &rating->nr, "below 0", "above 130");
    if (isnan(rating->sil_db)) {
        table_put(out, "     no SIL: it needs the octaves 500 to 4000 Hz\n");
    } else {
        table_put(out, "     SIL ");
        table_put_number(out, TABLE_DECIBEL, rating->sil_db);
        table_put(out, " dB\n");
    }
    put_speech(out, sheet, rating);
}

static void put_notes(table_text *out, const gradin_spectrum_sheet *sheet) {
    bool has_octaves = false;
    for (int i = 0; i < sheet->source->n_spectrum; i++)
        has_octaves |= sheet->rating[i].spectrum->is_octave;
    table_put(out, "\nSteady noise. NC: ANSI/ASA S12.2-2019; NR: ISO/R 1996; SIL: 500 to 4000 "
                   "Hz.\nSII: ANSI S3.5-1997, normal hearing, a free field, no noise but this.\n"
                   "NC and NR are of the octaves given: one that is not given may raise them.\n");
    if (has_octaves)
        table_put(out, "Octaves: dB(A) weights each at its middle, SII spreads it evenly over its "
                       "width.\n");
}

gradin_status gradin_spectra_text(gradin_arena *arena, const gradin_spectrum_sheet *sheet,
                                  char **text, gradin_error *error) {
    if (NEEDS(error, arena, text) != GRADIN_OK || spectra_complete(sheet, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    table_put(&out, "Sound pressure level, dB");
    if (sheet->source->source) {
        table_put(&out, ": ");
        table_put_fitted(&out, sheet->source->source, NAME_COLUMNS, false);
    }
    table_put(&out, "\n");
    put_bands(&out, sheet);
    for (int i = 0; i < sheet->source->n_spectrum; i++) put_rating(&out, sheet, i);
    put_notes(&out, sheet);
    table_fold(&out);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the table");
    *text = out.bytes;
    return GRADIN_OK;
}
