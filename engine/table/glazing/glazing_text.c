/* Build-ups for a terminal: R by band, one column per curve under a letter, then what each letter
 * stands for. A page wide. */
#include "base/use.h"
#include "gradin/table.h"
#include "studies/shared/complete.h"
#include "table/shared/names.h"
#include "table/shared/text.h"

enum { PER_BLOCK = 9, CURVE_COLUMNS = 8, NAME_COLUMNS = 60 };

/* A curve of the sheet: `which` is 0 predicted, 1 measured. */
typedef struct column {
    const gradin_glazed *glazed;
    int which;
} column;

static const gradin_glazed_curve *curve_of(column c) {
    return c.which ? &c.glazed->measured : &c.glazed->predicted;
}

static int list_columns(const gradin_glazing_sheet *sheet, column *list) {
    int n = 0;
    for (int i = 0; i < sheet->n_glazed; i++)
        for (int which = 0; which < 2; which++) {
            column c = {&sheet->glazed[i], which};
            if (curve_of(c)->is_given) list[n++] = c;
        }
    return n;
}

static void put_row(table_text *out, const column *list, int first, int last, int band) {
    table_print(out, "%7d", gradin_band_nominal_hz(band));
    for (int i = first; i < last; i++) {
        const gradin_glazed_curve *curve = curve_of(list[i]);
        bool is_blank = curve->is_octave && band % 3 != 1;
        table_put_right(out, TABLE_DECIBEL, is_blank ? NAN : curve->r_db[band], CURVE_COLUMNS);
    }
    table_put(out, "\n");
}

static void put_bands(table_text *out, const column *list, int n) {
    for (int first = 0; first < n; first += PER_BLOCK) {
        int last = first + PER_BLOCK < n ? first + PER_BLOCK : n;
        table_put(out, "\nband, Hz");
        for (int i = first; i < last; i++) table_print(out, "%*c", i > first ? 8 : 7, 'A' + i);
        table_put(out, "\n");
        for (int band = 0; band < GRADIN_N_BAND; band++) put_row(out, list, first, last, band);
    }
}

/* Two ranges on a line. */
static void put_enlarged(table_text *out, const gradin_ratings *r) {
    static const char *const name[GRADIN_N_RANGE] = {"50-3150", "50-5000", "100-5000"};
    int n = 0;
    for (int k = 0; k < GRADIN_N_RANGE; k++) {
        if (!r->enlarged[k].applies) continue;
        const char *before = n == 0 ? "     " : n % 2 == 0 ? ";\n     " : "; ";
        table_print(out, "%sC%s %d, Ctr,%s %d", before, name[k], r->enlarged[k].c_db, name[k],
                    r->enlarged[k].ctr_db);
        n++;
    }
    table_put(out, n > 0 ? " dB\n" : "");
}

static void put_ratings(table_text *out, const gradin_glazed_curve *curve) {
    const gradin_ratings *r = &curve->ratings;
    const char *basis = curve->is_octave ? " from octaves" : "";
    if (r->has_rw)
        table_print(out, "     Rw (C; Ctr) %d (%d; %d) dB%s", r->rw.rating_db, r->rw.c_db,
                    r->rw.ctr_db, basis);
    else
        table_print(out, "     no Rw: it needs %s",
                    curve->is_octave ? "the octaves 125 to 2000 Hz" : "the thirds 100 to 3150 Hz");
    if (r->has_stc) table_print(out, "; STC %d", r->stc);
    if (r->stc_limit_hz > 0)
        table_print(out, " (set by 8 dB at %d Hz)", r->stc_limit_hz);
    else if (r->has_stc)
        table_put(out, " (set by the sum of 32 dB)");
    if (r->has_oitc) table_print(out, "; OITC %d", r->oitc);
    table_put(out, "\n");
    put_enlarged(out, r);
}

static void put_frequencies(table_text *out, const char *what, const double *f_hz, int n) {
    for (int i = 0; i < n; i++) {
        table_put(out, i ? ", " : what);
        if (isinf(f_hz[i]))
            table_put(out, "none (limp)");
        else
            table_put_number(out, TABLE_HERTZ, f_hz[i]);
        if (i == n - 1) table_put(out, " Hz");
    }
}

static void put_interlayer(table_text *out, const gradin_glazed *g) {
    if (isnan(g->shear_pa)) return;
    table_put(out, "     interlayer at ");
    table_put_number(out, TABLE_COUNT, g->buildup->temperature_c);
    table_put(out, " \xC2\xB0"
                   "C and 1 kHz: shear modulus ");
    table_put_number(out, TABLE_MEGAPASCAL, g->shear_pa / 1e6);
    table_put(out, " MPa, loss factor ");
    table_put_number(out, TABLE_LOSS_FACTOR, g->shear_loss);
    table_put(out, "\n");
}

/* Smallest and largest over the bands, and where it is from. */
static void put_uncertainty(table_text *out, const gradin_glazed_curve *curve) {
    double least_db = INFINITY, most_db = 0.0;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        least_db = fmin(least_db, curve->uncertainty_db[b]);
        most_db = fmax(most_db, curve->uncertainty_db[b]);
    }
    table_put(out, "     standard uncertainty by band ");
    table_put_number(out, TABLE_DECIBEL, least_db);
    table_put(out, " to ");
    table_put_number(out, TABLE_DECIBEL, most_db);
    table_print(out, " dB\n     (%s)\n", curve->uncertainty_basis);
}

static void put_held(table_text *out, const gradin_glazed *g) {
    static const char *const held[] = {[GRADIN_FRAMES_BY_GAP] = "pane clamped",
                                       [GRADIN_FRAMES_SPACER] = "sealed unit",
                                       [GRADIN_FRAMES_JOINED] = "panes held together",
                                       [GRADIN_FRAMES_SEPARATE] =
                                           "panes in separate leaves of wall"};
    bool has_gap = g->frames != GRADIN_FRAMES_BY_GAP;
    table_print(out, "     %s%s, %s\n", held[g->frames],
                !has_gap                        ? ""
                : g->buildup->has_lined_reveals ? ", lined reveals"
                                                : ", bare reveals",
                g->buildup->is_flush ? "flush with its wall" : "deep in its wall");
}

static void put_layers(table_text *out, const gradin_glazed *g) {
    table_put(out, "     mass ");
    table_put_number(out, TABLE_MASS, g->mass_kgm2);
    table_put(out, " kg/m2");
    put_frequencies(out, "; critical ", g->critical_hz, g->n_panel);
    put_frequencies(out, "; mass-air-mass ", g->resonance_hz, g->n_resonance);
    table_put(out, "\n");
    put_interlayer(out, g);
    put_held(out, g);
}

static void put_measurement(table_text *out, const gradin_glazed *g) {
    bool has_area = isfinite(g->buildup->sample_m2);
    if (g->buildup->report || has_area) table_put(out, "     ");
    if (g->buildup->report) table_put_fitted(out, g->buildup->report, NAME_COLUMNS, false);
    if (has_area) {
        table_put(out, g->buildup->report ? "; sample " : "sample ");
        table_put_number(out, TABLE_AREA, g->buildup->sample_m2);
        table_put(out, " m2");
    }
    if (g->buildup->report || has_area) table_put(out, "\n");
    if (isnan(g->mean_abs_db)) return;
    table_put(out, "     predicted differs by ");
    table_put_number(out, TABLE_DECIBEL, g->mean_abs_db);
    table_put(out, " dB on average over the bands; the measured curve is the one in use\n");
}

static void put_legend(table_text *out, column c, int index) {
    table_print(out, "  %c  ", 'A' + index);
    table_put_fitted(out, c.glazed->buildup->name, NAME_COLUMNS, false);
    table_print(out, ", %s\n", c.which ? gradin_basis_name(c.glazed->buildup) : "predicted");
    put_ratings(out, curve_of(c));
    if (c.which)
        put_measurement(out, c.glazed);
    else
        put_layers(out, c.glazed);
    put_uncertainty(out, curve_of(c));
}

static void put_fit(table_text *out, const gradin_glazing_fit *fit) {
    table_put(out, "\nFitted to the measurement of ");
    table_put_fitted(out, fit->buildup->name, NAME_COLUMNS, false);
    table_put(out, ": loss factor of the glass ");
    table_put_number(out, TABLE_LOSS_FACTOR, fit->loss);
    if (isfinite(fit->shear_pa)) {
        table_put(out, ",\nshear modulus of the interlayer ");
        table_put_number(out, TABLE_MEGAPASCAL, fit->shear_pa / 1e6);
        table_put(out, " MPa");
    }
    if (fit->is_at_bound) table_put(out, " (the curve does not fix both: one is at its bound)");
    table_put(out, ". Predicted curves use them.\nPredicted less measured, dB: rms ");
    table_put_number(out, TABLE_DECIBEL, fit->rms_before_db);
    table_put(out, " before, ");
    table_put_number(out, TABLE_DECIBEL, fit->rms_db);
    table_put(out, " after; left from 50 Hz to 5 kHz\n");
    for (int band = 0; band < GRADIN_N_BAND; band++) {
        table_put_right(out, TABLE_DECIBEL, fit->residual_db[band], 7);
        table_put(out, band == GRADIN_N_BAND / 2 || band == GRADIN_N_BAND - 1 ? "\n" : "");
    }
}

static bool has_predicted(const gradin_glazing_sheet *sheet) {
    for (int i = 0; i < sheet->n_glazed; i++)
        if (sheet->glazed[i].predicted.is_given) return true;
    return false;
}

static void put_view(table_text *out, const gradin_glazing_view *view) {
    if (view->shade) {
        table_put(out, "\nPredicted with the shade ");
        table_put_fitted(out, view->shade->name, NAME_COLUMNS, false);
        table_put(out, view->shade->is_by_layers ? " shut, by its layers." : " shut, as measured.");
    }
    if (view->is_in_place) {
        table_put(out, "\nPredicted in place: with a joint of ");
        table_put_number(out, TABLE_DECIBEL, GRADIN_IN_PLACE_JOINT_DB);
        table_put(out, " dB per metre round a pane of ");
        bool has_size = view->width_m > 0.0;
        table_put_number(out, TABLE_AREA, has_size ? view->width_m : GRADIN_IN_PLACE_WIDTH_M);
        table_put(out, " m by ");
        table_put_number(out, TABLE_AREA, has_size ? view->height_m : GRADIN_IN_PLACE_HEIGHT_M);
        table_put(out, " m, a value fitted to a table of windows.");
    }
    if (view->shade || view->is_in_place) table_put(out, "\n");
}

static void put_caution(table_text *out, const gradin_glazing_view *view) {
    put_view(out, view);
    table_put(out, "\nPredicted: a ");
    if (!view->is_in_place) table_put(out, "tight ");
    if (view->width_m > 0.0) {
        table_put(out, "pane of ");
        table_put_number(out, TABLE_AREA, view->width_m);
        table_put(out, " m by ");
        table_put_number(out, TABLE_AREA, view->height_m);
        table_put(out, " m");
    } else {
        table_put(out, "pane of the usual sample, 1.25 m by 1.5 m,");
    }
    table_put(out, " under diffuse incidence; ");
    table_put(out, view->is_in_place ? "other leaks" : "leaks");
    table_put(out, " are not in it. A measurement is better.\n");
}

gradin_status gradin_glazing_text(gradin_arena *arena, const gradin_glazing_sheet *sheet,
                                  char **text, gradin_error *error) {
    if (NEEDS(error, arena, text) != GRADIN_OK || sheet_complete(sheet, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text out = {.arena = arena};
    column list[2 * GRADIN_MAX_GLAZED];
    int n = list_columns(sheet, list);
    table_put(&out, "Sound reduction index R, dB: ");
    table_put_fitted(&out, sheet->source->source, NAME_COLUMNS, false);
    table_put(&out, "\n");
    put_bands(&out, list, n);
    table_put(&out, "\n");
    for (int i = 0; i < n; i++) put_legend(&out, list[i], i);
    if (sheet->fit) put_fit(&out, sheet->fit);
    if (has_predicted(sheet)) put_caution(&out, &sheet->view);
    table_fold(&out);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the table");
    *text = out.bytes;
    return GRADIN_OK;
}
