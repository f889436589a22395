/* gradin outlook LAYOUT --from POINTS --out DIR: what is seen through open glass. */
#include "command.h"

typedef struct outlook_options {
    const char *from, *out_dir;
    int shades, units, format;
    bool has_no_maps, is_json, is_quiet;
} outlook_options;

typedef struct outlook_output {
    char *points, *seats, *seen, *text, *json;
    size_t points_size, seats_size, seen_size, json_size;
} outlook_output;

enum { SHADES_AS_SET, SHADES_UP };
static const char *const shades_words[] = {[SHADES_AS_SET] = "as-set", [SHADES_UP] = "up", NULL};

static gradin_status write_texts(gradin_arena *arena, const gradin_outlook *outlook,
                                 gradin_csv_units units, outlook_output *out, gradin_error *error) {
    gradin_status s =
        gradin_outlook_points_csv(arena, outlook, units, &out->points, &out->points_size, error);
    if (s == GRADIN_OK)
        s = gradin_outlook_seats_csv(arena, outlook, &out->seats, &out->seats_size, error);
    if (s == GRADIN_OK)
        s = gradin_outlook_seen_csv(arena, outlook, units, &out->seen, &out->seen_size, error);
    if (s == GRADIN_OK) s = gradin_outlook_json(arena, outlook, &out->json, &out->json_size, error);
    return s == GRADIN_OK ? gradin_outlook_text(arena, outlook, &out->text, error) : s;
}

static int write_all(const outlook_options *o, gradin_arena *arena, const gradin_outlook *outlook,
                     const outlook_output *out, gradin_error *error) {
    const char *dir = o->out_dir;
    int result = open_results(dir);
    if (result != EXIT_DONE) return result;
    const result_file file[] = {{"outlook-points.csv", out->points, out->points_size},
                                {"outlook-seats.csv", out->seats, out->seats_size},
                                {"outlook-seen.csv", out->seen, out->seen_size}};
    gradin_status s = write_results(dir, file, 3, arena, error);
    if (s == GRADIN_OK && !o->has_no_maps)
        s = gradin_outlook_map_write(outlook, (gradin_picture)o->format, dir, NULL, error);
    return report(s, error);
}

static gradin_status compute(const char *file, const outlook_options *o, gradin_arena *arena,
                             gradin_outlook *outlook, gradin_error *error) {
    gradin_model *model = gradin_arena_alloc(arena, 1, sizeof *model);
    gradin_outside *outside = gradin_arena_alloc(arena, 1, sizeof *outside);
    gradin_outlook_options wanted = {.are_shades_up = o->shades == SHADES_UP};
    if (!model || !outside) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    gradin_status s = gradin_model_read(arena, file, model, error);
    if (s == GRADIN_OK) s = gradin_outside_read(arena, o->from, model->units, outside, error);
    if (s == GRADIN_OK) s = gradin_outlook_compute(arena, model, outside, &wanted, outlook, error);
    return s;
}

static int outlook(const void *options, const operands *given, gradin_arena *arena,
                   gradin_error *error) {
    const outlook_options *o = options;
    gradin_outlook found;
    outlook_output out = {0};
    gradin_status status = compute(given->text[0], o, arena, &found, error);
    if (status == GRADIN_OK)
        status = write_texts(arena, &found, (gradin_csv_units)o->units, &out, error);
    if (status != GRADIN_OK) return report(status, error);
    int result = write_all(o, arena, &found, &out, error);
    if (result != EXIT_DONE) return result;
    if (o->is_json) return print_out(out.json);
    if (o->is_quiet) return EXIT_DONE;
    const char *line = gradin_arena_print(
        arena, "%s\nwritten to %s: outlook-points.csv, outlook-seats.csv, outlook-seen.csv%s\n",
        out.text, o->out_dir, o->has_no_maps ? "" : ", map");
    return line ? print_out(line) : EXIT_MACHINE;
}

static const usage_form usages[] = {
    {.need = "one layout is needed", .operand = {{"LAYOUT", OPERAND_YAML, 1, 1}}}};

static const option_form options[] = {
    {.name = "--from",
     .value = "FILE",
     AS_FILE(outlook_options, from),
     .is_required = true,
     .meaning = "points outside, a CSV name,x,y,z in the layout's units; z is the height of the "
                "eye above the plan origin's level"},
    {.name = "--out",
     .value = "DIR",
     AS_FOLDER(outlook_options, out_dir),
     .is_required = true,
     .meaning = "folder for the tables and the map, made when it is not there"},
    {.name = "--shades",
     .value = "STATE",
     AS_CHOICE(outlook_options, shades),
     .choice = shades_words,
     .preset = SHADES_AS_SET,
     .is_preset_shown = true,
     .meaning = "shades as the layout sets them, or every one up"},
    UNITS_OPTION(outlook_options, units),
    FORMAT_OPTION(outlook_options, format),
    NO_MAPS_OPTION(outlook_options, has_no_maps),
    JSON_OPTION(outlook_options, is_json),
    QUIET_OPTION(outlook_options, is_quiet)};

static const example_form examples[] = {
    {"gradin outlook thrust.yaml --from street.csv --out outlook", "what the street sees"},
    {"gradin outlook thrust.yaml --from street.csv --out outlook --shades up",
     "what it would see with every shade up"}};

const verb_form outlook_verb = {
    .name = "outlook",
    .summary = "find what is seen through glass, from outside and inside",
    .description =
        "Gives for each point outside which seats and which part of the stage are seen from there "
        "through glass without a shade, and for each seat what share of its outlook is open glass. "
        "Seats, rails, structure, walls and roof hide what is behind them.\n\n"
        "Reflections, light by day and night, frames, curtains, trees and other buildings are not "
        "in it: it says what can be seen at most, not what will be noticed.",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(outlook_options),
    .run = outlook};
