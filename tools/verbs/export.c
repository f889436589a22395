/* gradin export LAYOUT --out FILE: a layout as a file that other programs open. Nothing is created
 * before all computing has succeeded. */
#include "command.h"
#include "gradin/render.h"

#include <omp.h>
#include <string.h>

typedef struct export_options {
    const char *out, *brief, *cache;
    int n_sample, n_thread, figure, scale; /* n_thread 0: all cores */
    bool is_json, is_quiet;
} export_options;

typedef enum export_kind { KIND_GLB, KIND_DXF, KIND_GEOJSON, N_KIND } export_kind;
static const char *const ending[N_KIND] = {".glb", ".dxf", ".geojson"};

static bool kind_of_name(const char *name, export_kind *kind) {
    size_t length = strlen(name);
    for (int k = 0; k < N_KIND; k++) {
        size_t end = strlen(ending[k]);
        if (length > end && strcmp(name + length - end, ending[k]) == 0) {
            *kind = (export_kind)k;
            return true;
        }
    }
    say("export: --out is '%s'; the name of a file that ends in .glb, .dxf or .geojson is needed",
        name);
    return false;
}

static gradin_status compute(const export_options *o, const char *file, gradin_arena *arena,
                             gradin_model *model, gradin_assessment *a, gradin_error *error) {
    gradin_assess_options how = {.sight = {.n_sample = o->n_sample}, .room_cache = o->cache};
    const gradin_assessment *assessed;
    return assess_files(arena, &file, 1, o->brief, &how, model, a, &assessed, error);
}

static gradin_status make(const export_options *o, export_kind kind, gradin_arena *arena,
                          const gradin_assessment *a, const void **bytes, size_t *size,
                          gradin_error *error) {
    unsigned char *scene = NULL;
    char *text = NULL;
    gradin_status status = kind == KIND_GLB
                               ? gradin_hall_glb(arena, a, (gradin_map)o->figure,
                                                 (gradin_map_scale)o->scale, &scene, size, error)
                           : kind == KIND_DXF ? gradin_hall_dxf(arena, a, &text, size, error)
                                              : gradin_hall_geojson(arena, a, &text, size, error);
    *bytes = scene ? (const void *)scene : text;
    return status;
}

static int print_written(const export_options *o, gradin_arena *arena, const gradin_assessment *a,
                         gradin_error *error) {
    char *json;
    size_t size;
    if (o->is_json) {
        gradin_status status = gradin_hall_json(arena, a, o->out, &json, &size, error);
        return status == GRADIN_OK ? print_out(json) : report(status, error);
    }
    if (o->is_quiet) return EXIT_DONE;
    const char *text = gradin_arena_print(arena, "%d seats of %s\nwritten to %s\n",
                                          a->model->seats.n_seat, a->model->layout_name, o->out);
    return text ? print_out(text) : EXIT_MACHINE;
}

static int run_export(const void *options, const operands *given, gradin_arena *arena,
                      gradin_error *error) {
    const export_options *o = options;
    export_kind kind = KIND_DXF;
    gradin_model model;
    gradin_assessment a;
    const void *bytes = NULL;
    size_t size = 0;
    if (!kind_of_name(o->out, &kind)) return EXIT_INPUT;
    if (o->n_thread > 0) omp_set_num_threads(o->n_thread);
    gradin_status status = compute(o, given->text[0], arena, &model, &a, error);
    if (status == GRADIN_OK) status = make(o, kind, arena, &a, &bytes, &size, error);
    if (status != GRADIN_OK) return report(status, error);
    say_notes_of(&a);
    status = gradin_write_file(o->out, bytes, size, error);
    return status == GRADIN_OK ? print_written(o, arena, &a, error) : report(status, error);
}

static const usage_form usages[] = {
    {.need = "one layout is needed", .operand = {{"LAYOUT", OPERAND_YAML, 1, 1}}}};

static const char *const figure_words[] = {
    [GRADIN_MAP_VISIBLE] = "visible",       [GRADIN_MAP_C_VALUE] = "c_value",
    [GRADIN_MAP_RATING] = "rating",         [GRADIN_MAP_DISTANCE] = "distance",
    [GRADIN_MAP_OFF_AXIS] = "off_axis",     [GRADIN_MAP_TURN] = "turn",
    [GRADIN_MAP_LAMAX] = "lamax",           [GRADIN_MAP_LAMAX_OPEN] = "lamax_open",
    [GRADIN_MAP_LAMAX_SHUT] = "lamax_shut", NULL};

static const option_form options[] = {
    {.name = "--out",
     .value = "FILE",
     AS_FILE(export_options, out),
     .is_required = true,
     .meaning = "the file; its name ends in .glb, .dxf or .geojson"},
    {.name = "--figure",
     .value = "FIGURE",
     AS_CHOICE(export_options, figure),
     .choice = figure_words,
     .preset = GRADIN_MAP_RATING,
     .is_preset_shown = true,
     .meaning = "by which the seats of a .glb are coloured, as on the map of that name"},
    SCALE_OPTION(export_options, scale),
    BRIEF_OPTION(export_options, brief),
    SAMPLES_OPTION(export_options, n_sample, ""),
    THREADS_OPTION(export_options, n_thread),
    CACHE_OPTION(export_options, cache),
    JSON_OPTION(export_options, is_json),
    QUIET_OPTION(export_options, is_quiet)};

static const example_form examples[] = {
    {"gradin export thrust.yaml --out thrust.glb", "the hall in three dimensions, seats by rating"},
    {"gradin export thrust.yaml --out thrust.dxf", "the plan with layers, for a drawing program"},
    {"gradin export thrust.yaml --out thrust.geojson", "the plan and its figures as data"}};

const verb_form export_verb = {
    .name = "export",
    .summary = "write a layout as a file that other programs open",
    .description =
        "Assesses a layout and writes it with the figures of every seat: in three dimensions "
        "(GLB), "
        "as a plan with layers (DXF), in which a seat is a block with attributes, or as data "
        "(GeoJSON). The ending of the file's name says which. Lengths are metres from the plan "
        "origin, x to the "
        "east, y to the north; in a .glb y is up and north is -z.\n\n"
        "The file holds predictions and approves nothing: rails, guards, egress and loads are for "
        "the local code and a licensed professional.",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(export_options),
    .run = run_export};
