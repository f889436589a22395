/* The font by its file: fontconfig finds it, but none of the user's rendering rules apply. */
#include "render/draw/font.h"

#include <cairo-ft.h>
#include <fontconfig/fontconfig.h>
#include <string.h>

static const char sans[] = "DejaVu Sans", mono[] = "DejaVu Sans Mono";

static FcPattern *match(const char *family, bool is_bold) {
    FcPattern *wanted = FcPatternCreate();
    if (!wanted) return NULL;
    FcPatternAddString(wanted, FC_FAMILY, (const FcChar8 *)family);
    FcPatternAddInteger(wanted, FC_WEIGHT, is_bold ? FC_WEIGHT_BOLD : FC_WEIGHT_REGULAR);
    FcPatternAddInteger(wanted, FC_SLANT, FC_SLANT_ROMAN);
    FcPatternAddInteger(wanted, FC_WIDTH, FC_WIDTH_NORMAL);
    FcConfigSubstitute(NULL, wanted, FcMatchPattern);
    FcDefaultSubstitute(wanted);
    FcResult result = FcResultNoMatch;
    FcPattern *found = FcFontMatch(NULL, wanted, &result);
    FcPatternDestroy(wanted);
    return found;
}

/* fontconfig answers with its nearest font, whatever it is: only the true family and weight do. */
static bool is_wanted(const FcPattern *found, const char *family, bool is_bold) {
    FcChar8 *name = NULL;
    int weight = 0;
    if (FcPatternGetString(found, FC_FAMILY, 0, &name) != FcResultMatch) return false;
    if (FcPatternGetInteger(found, FC_WEIGHT, 0, &weight) != FcResultMatch) return false;
    return strcmp((const char *)name, family) == 0 && (weight >= FC_WEIGHT_DEMIBOLD) == is_bold;
}

static cairo_font_face_t *face_of_file(const FcPattern *found) {
    FcChar8 *file = NULL;
    int index = 0;
    if (FcPatternGetString(found, FC_FILE, 0, &file) != FcResultMatch) return NULL;
    if (FcPatternGetInteger(found, FC_INDEX, 0, &index) != FcResultMatch) index = 0;
    FcPattern *plain = FcPatternCreate();
    if (!plain) return NULL;
    FcPatternAddString(plain, FC_FILE, file);
    FcPatternAddInteger(plain, FC_INDEX, index);
    cairo_font_face_t *face = cairo_ft_font_face_create_for_pattern(plain);
    FcPatternDestroy(plain);
    return face;
}

static gradin_status open_of(const char *family, bool is_bold, cairo_font_face_t **face,
                             gradin_error *error) {
    *face = NULL;
    FcPattern *found = match(family, is_bold);
    if (found && is_wanted(found, family, is_bold)) *face = face_of_file(found);
    if (found) FcPatternDestroy(found);
    if (*face && cairo_font_face_status(*face) == CAIRO_STATUS_SUCCESS) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_IO_FAILED, NULL,
                            "the font %s%s is not installed; maps need it (on Debian the package "
                            "fonts-dejavu-core)",
                            family, is_bold ? " Bold" : "");
}

void font_options_set(cairo_t *cr) {
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_set_font_options(cr, options);
    cairo_font_options_destroy(options);
}

gradin_status font_open(bool is_bold, cairo_font_face_t **face, gradin_error *error) {
    return open_of(sans, is_bold, face, error);
}

gradin_status font_open_mono(cairo_font_face_t **face, gradin_error *error) {
    return open_of(mono, false, face, error);
}
