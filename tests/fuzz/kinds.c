#include "fuzz/kinds.h"

#include "gradin/gradin.h"

#include <string.h>

enum { MAX_SEAT = 300, MAX_ELEMENT = 60 }; /* larger ones are read, not assessed */

bool fuzz_is_quick;

static gradin_status assess(gradin_arena *arena, const char *layout, size_t n_byte,
                            gradin_error *error) {
    gradin_model model;
    gradin_assessment a;
    char *text;
    size_t size;
    gradin_status status = gradin_model_read(arena, layout, &model, error);
    if (status != GRADIN_OK || model.seats.n_seat > MAX_SEAT || model.n_element > MAX_ELEMENT)
        return status;
    /* Glass by angle takes seconds under the sanitizers: most are read and built, no more. */
    if (!fuzz_is_quick && n_byte % 8 != 0) return status;
    if (fuzz_is_quick || n_byte % 16 != 0)
        model.room_method = GRADIN_ROOM_DIFFUSE; /* the quicker one, mostly */
    gradin_assess_options few = {.sight = {.n_sample = 4}};
    status = gradin_assess(arena, &model, &few, &a, error);
    if (status == GRADIN_OK)
        status = gradin_seats_csv(arena, &a, GRADIN_CSV_SI, &text, &size, error);
    if (status == GRADIN_OK) status = gradin_summary_json(arena, &a, &text, &size, error);
    return status;
}

static const char *in(gradin_arena *arena, const char *folder, const char *name) {
    return gradin_arena_print(arena, "%s/%s", folder, name);
}

/* Any YAML file, told by its format; a good layout is assessed, a good venue gets the hall's. */
static gradin_status run_yaml(gradin_arena *arena, const char *folder, const void *bytes,
                              size_t size, gradin_error *error) {
    const char *kind = "", *input = in(arena, folder, "input.yaml");
    (void)bytes;
    gradin_status status = gradin_file_check(input, -1, &kind, error);
    if (status == GRADIN_OK && strcmp(kind, "layout") == 0)
        status = assess(arena, input, size, error);
    if (status == GRADIN_OK && strcmp(kind, "venue") == 0)
        status = assess(arena, in(arena, folder, "on_input.yaml"), size, error);
    return status;
}

/* A layout that has the input as one of its files: read, which checks and builds it. */
static gradin_status read_layout(gradin_arena *arena, const char *layout, gradin_error *error) {
    gradin_model model;
    return gradin_model_read(arena, layout, &model, error);
}

static gradin_status run_seats(gradin_arena *arena, const char *folder, const void *bytes,
                               size_t size, gradin_error *error) {
    (void)bytes, (void)size;
    return read_layout(arena, in(arena, folder, "layout.yaml"), error);
}

static gradin_status run_obj(gradin_arena *arena, const char *folder, const void *bytes,
                             size_t size, gradin_error *error) {
    (void)bytes, (void)size;
    return read_layout(arena, in(arena, folder, "with_obj.yaml"), error);
}

static gradin_status run_stl(gradin_arena *arena, const char *folder, const void *bytes,
                             size_t size, gradin_error *error) {
    (void)bytes, (void)size;
    return read_layout(arena, in(arena, folder, "with_stl.yaml"), error);
}

static gradin_status run_drawing(gradin_arena *arena, const char *folder, const void *bytes,
                                 size_t size, gradin_error *error) {
    (void)bytes, (void)size;
    return read_layout(arena, in(arena, folder, "with_drawing.yaml"), error);
}

static gradin_status run_curve(gradin_arena *arena, const char *folder, const void *bytes,
                               size_t size, gradin_error *error) {
    gradin_buildups found;
    (void)bytes, (void)size;
    return gradin_curve_read(arena, in(arena, folder, "door.csv"), &found, error);
}

static gradin_status run_spectra(gradin_arena *arena, const char *folder, const void *bytes,
                                 size_t size, gradin_error *error) {
    gradin_spectra found;
    (void)bytes, (void)size;
    return gradin_spectra_read(arena, in(arena, folder, "levels.csv"), &found, error);
}

static gradin_status run_traffic(gradin_arena *arena, const char *folder, const void *bytes,
                                 size_t size, gradin_error *error) {
    gradin_traffic traffic;
    gradin_error skipped = {0};
    (void)bytes;
    return gradin_traffic_read(arena, in(arena, folder, "season.yaml"), size % 2 == 1, &traffic,
                               &skipped, error);
}

static gradin_status run_outside(gradin_arena *arena, const char *folder, const void *bytes,
                                 size_t size, gradin_error *error) {
    gradin_outside outside;
    (void)bytes;
    return gradin_outside_read(arena, in(arena, folder, "street.csv"), size % 2 ? "ft" : "m",
                               &outside, error);
}

/* Each line goes behind a digest that fits, so that what it says is looked at. */
static gradin_status write_lines(gradin_arena *arena, gradin_journal *journal, const char *bytes,
                                 size_t size, gradin_error *error) {
    gradin_status status = GRADIN_OK;
    char *text = gradin_arena_alloc(arena, size + 1, 1), *rest;
    if (!text) return GRADIN_NO_MEMORY;
    memcpy(text, bytes, size);
    for (char *line = strtok_r(text, "\n", &rest); line && status == GRADIN_OK;
         line = strtok_r(NULL, "\n", &rest))
        if (strlen(line) <= GRADIN_MAX_JOURNAL_LINE)
            status = gradin_journal_add(journal, line, error);
    return status;
}

static gradin_status run_journal(gradin_arena *arena, const char *folder, const void *bytes,
                                 size_t size, gradin_error *error) {
    static const char digest[] = "0123456789abcdef0123456789abcdef";
    static const gradin_journal_lines none = {0};
    gradin_study study;
    gradin_journal_lines lines;
    gradin_journal journal = {.fd = -1};
    gradin_sweep_row row[8];
    const char *path = in(arena, folder, "journal.txt");
    for (int i = 0; i < 8; i++) row[i] = (gradin_sweep_row){.point = -1};
    gradin_status status = gradin_study_read(arena, in(arena, folder, "study.yaml"), &study, error);
    if (status == GRADIN_OK)
        status = gradin_sweep_journal_begin(arena, path, digest, &none, &journal, error);
    if (status == GRADIN_OK) status = write_lines(arena, &journal, bytes, size, error);
    gradin_journal_end(&journal);
    int n_point = gradin_study_points(&study);
    return status != GRADIN_OK
               ? status
               : gradin_sweep_journal_read(arena, path, &study, digest, row,
                                           n_point < 8 ? n_point : 8, &lines, error);
}

const fuzz_kind fuzz_kinds[N_FUZZ_KIND] = {
    {"yaml", "input.yaml",
     "venue.yaml layout.yaml pass.yaml brief.yaml wishes.yaml season.yaml show.yaml month.yaml "
     "study.yaml",
     true, run_yaml},
    {"seats", "seats.csv", "seats.csv", true, run_seats},
    {"curve", "door.csv", "door.csv", true, run_curve},
    {"spectra", "levels.csv", "levels.csv", true, run_spectra},
    {"events", "events.csv", "events.csv", true, run_traffic},
    {"track", "track.csv", "track.csv", true, run_traffic},
    {"outside", "street.csv", "street.csv", true, run_outside},
    {"drawing", "chairs.dxf", "chairs.dxf", true, run_drawing},
    {"obj", "box.obj", "box.obj", true, run_obj},
    {"stl", "box.stl", "box.stl", false, run_stl},
    {"journal", "lines.txt", "", true, run_journal}};

const fuzz_kind *fuzz_kind_named(const char *name) {
    for (int i = 0; i < N_FUZZ_KIND; i++)
        if (strcmp(fuzz_kinds[i].name, name) == 0) return &fuzz_kinds[i];
    return NULL;
}
