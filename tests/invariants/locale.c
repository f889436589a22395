/* A program that uses the library under a locale with a decimal comma reads the same model and gets
 * the same bytes of every output as under the plain one. The command never sets a locale, so only
 * a program of its own can tell.
 *
 * usage: locale LAYOUT */
#include "gradin/gradin.h"
#include "gradin/studies/page/picture.h"
#include "gradin/studies/view_picture.h"

#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { N_OUTPUT = 7 };
static const char *const output_name[N_OUTPUT] = {
    "seats.csv", "summary.json", "summary text", "map", "drawing", "page", "view"};

typedef struct outputs {
    gradin_arena *arena;
    char *bytes[N_OUTPUT];
    size_t size[N_OUTPUT];
} outputs;

static gradin_error error;

static gradin_status compose(const gradin_assessment *a, outputs *o) {
    unsigned char *map = NULL;
    gradin_status status =
        gradin_seats_csv(o->arena, a, GRADIN_CSV_SI, &o->bytes[0], &o->size[0], &error);
    if (status == GRADIN_OK)
        status = gradin_summary_json(o->arena, a, &o->bytes[1], &o->size[1], &error);
    if (status == GRADIN_OK) status = gradin_summary_text(o->arena, a, &o->bytes[2], &error);
    if (status == GRADIN_OK) o->size[2] = strlen(o->bytes[2]);
    if (status == GRADIN_OK)
        status = gradin_map_png(o->arena, a, GRADIN_MAP_DISTANCE, 0, &map, &o->size[3], &error);
    o->bytes[3] = (char *)map;
    if (status == GRADIN_OK)
        status = gradin_hall_dxf(o->arena, a, &o->bytes[4], &o->size[4], &error);
    return status;
}

/* Pictures of strokes: their words and places hold more numbers than a map does. */
static gradin_status draw(const gradin_assessment *a, outputs *o) {
    gradin_layout_page page;
    gradin_view view;
    unsigned char *bytes[2] = {NULL, NULL};
    const gradin_view_options small = {.width_px = 64, .height_px = 64};
    gradin_status status = gradin_layout_page_compute(o->arena, a, &page, &error);
    const gradin_pages pages = {.layout = &page, .n = 1};
    if (status == GRADIN_OK)
        status = gradin_page_picture(o->arena, &pages, 0, GRADIN_PICTURE_PDF, &bytes[0],
                                     &o->size[5], &error);
    if (status == GRADIN_OK)
        status = gradin_view_compute(o->arena, a->model, 0, &small, &view, &error);
    if (status == GRADIN_OK)
        status = gradin_view_picture(o->arena, &view, GRADIN_PICTURE_PDF, &bytes[1], &o->size[6],
                                     &error);
    o->bytes[5] = (char *)bytes[0];
    o->bytes[6] = (char *)bytes[1];
    return status;
}

static bool assess(const char *layout, outputs *o) {
    gradin_model model;
    gradin_assessment a;
    gradin_assess_options few = {.sight = {.n_sample = 16}};
    o->arena = gradin_arena_create();
    if (o->arena && gradin_model_read(o->arena, layout, &model, &error) == GRADIN_OK &&
        gradin_assess(o->arena, &model, &few, &a, &error) == GRADIN_OK &&
        compose(&a, o) == GRADIN_OK && draw(&a, o) == GRADIN_OK)
        return true;
    printf("%s: %s\n", layout, error.n_diagnostic > 0 ? error.diagnostic[0].text : "no reason");
    return false;
}

/* The system need not have the locale: it is built into a folder of its own. */
static bool use_comma(char *folder) {
    char command[256];
    if (!mkdtemp(folder)) return false;
    snprintf(command, sizeof command, "localedef -i de_DE -f UTF-8 %s/de_DE.UTF-8 >/dev/null 2>&1",
             folder);
    if (system(command) != 0) puts("localedef failed (Debian package locales)");
    setenv("LOCPATH", folder, 1);
    return setlocale(LC_ALL, "de_DE.UTF-8") && strcmp(localeconv()->decimal_point, ",") == 0;
}

static void remove_folder(const char *folder) {
    char command[256];
    snprintf(command, sizeof command, "rm -rf %s", folder);
    if (system(command) != 0) puts("the locale's folder stays");
}

static int compare(const outputs *a, const outputs *b) {
    int n_failed = 0;
    for (int i = 0; i < N_OUTPUT; i++) {
        bool same = a->size[i] == b->size[i] && memcmp(a->bytes[i], b->bytes[i], a->size[i]) == 0;
        if (!same) printf("%s: FAILED, it differs under a decimal comma\n", output_name[i]);
        n_failed += !same;
    }
    return n_failed;
}

int main(int n_argument, char **argument) {
    char folder[] = "/tmp/gradin-locale-XXXXXX";
    outputs plain = {0}, comma = {0};
    int n_failed = N_OUTPUT;
    if (n_argument != 2) return 2;
    if (assess(argument[1], &plain) && use_comma(folder) && assess(argument[1], &comma))
        n_failed = compare(&plain, &comma);
    gradin_arena_destroy(plain.arena);
    gradin_arena_destroy(comma.arena);
    remove_folder(folder);
    printf("%d passed, %d failed\n", N_OUTPUT - n_failed, n_failed);
    return n_failed > 0;
}
