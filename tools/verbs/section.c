/* gradin section LAYOUT --seat SEAT | --line X1,Y1,X2,Y2 --out FILE: a cut through the hall.
 * Nothing is created before all computing has succeeded. */
#include "command.h"
#include "gradin/studies/view_picture.h"
#include "gradin/studies/view_write.h"
#include "gradin/studies/viewpoints.h"

#include <string.h>

typedef struct section_options {
    const char *seat, *line, *out;
    bool is_json, is_quiet;
} section_options;

/* "x1,y1,x2,y2" in the layout's units. */
static bool parse_line(const char *text, double value[4]) {
    char part[64];
    for (int i = 0; i < 4; i++) {
        size_t length = strcspn(text, ",");
        if (length >= sizeof part || (text[length] == ',') != (i < 3)) return false;
        memcpy(part, text, length);
        part[length] = '\0';
        if (!gradin_parse_number(part, &value[i])) return false;
        text += length + (i < 3);
    }
    return true;
}

static int check_words(const section_options *o, double value[4], gradin_picture *format) {
    if (!picture_of_name("section", o->out, format)) return EXIT_INPUT;
    if (!o->seat == !o->line) {
        say("section: one of --seat and --line is needed");
        return EXIT_INPUT;
    }
    if (o->line && !parse_line(o->line, value)) {
        say("section: --line is '%s'; four numbers with commas are needed, such as 0,4.5,20,4.5",
            o->line);
        return EXIT_INPUT;
    }
    return EXIT_DONE;
}

/* What is made of a layout. */
typedef struct made {
    gradin_model model;
    gradin_sight sight;
    gradin_cut cut;
    gradin_picture format;
    unsigned char *picture;
    size_t picture_size;
    char *json;
} made;

static gradin_status make(const section_options *o, const char *file, const double value[4],
                          gradin_arena *arena, made *m, gradin_error *error) {
    gradin_cut_options how = {.seat = -1};
    size_t size = 0;
    gradin_status s = gradin_model_read(arena, file, &m->model, error);
    if (s == GRADIN_OK && o->seat) s = gradin_viewpoint_named(&m->model, o->seat, &how.seat, error);
    if (s != GRADIN_OK) return s;
    double unit_m = strcmp(m->model.units, "ft") == 0 ? GRADIN_FOOT_M : 1.0;
    how.from_m = (gradin_vec2){value[0] * unit_m, value[1] * unit_m};
    how.to_m = (gradin_vec2){value[2] * unit_m, value[3] * unit_m};
    s = gradin_sight_compute(arena, &m->model, NULL, &m->sight, error);
    if (s == GRADIN_OK) s = gradin_cut_compute(arena, &m->model, &m->sight, &how, &m->cut, error);
    if (s == GRADIN_OK)
        s = gradin_cut_picture(arena, &m->cut, m->format, &m->picture, &m->picture_size, error);
    return s == GRADIN_OK ? gradin_cut_json(arena, &m->cut, &m->json, &size, error) : s;
}

static int run_section(const void *options, const operands *given, gradin_arena *arena,
                       gradin_error *error) {
    const section_options *o = options;
    double value[4] = {0.0, 0.0, 0.0, 0.0};
    gradin_picture format = GRADIN_PICTURE_PNG;
    int result = check_words(o, value, &format);
    if (result != EXIT_DONE) return result;
    made *m = gradin_arena_alloc(arena, 1, sizeof *m);
    if (!m) return report(gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory"), error);
    m->format = format;
    gradin_status s = make(o, given->text[0], value, arena, m, error);
    if (s == GRADIN_OK) s = gradin_write_file(o->out, m->picture, m->picture_size, error);
    if (s != GRADIN_OK) return report(s, error);
    if (o->is_json) return print_out(m->json);
    if (o->is_quiet) return EXIT_DONE;
    const char *text =
        gradin_arena_print(arena, "%d rows beside the line\nwritten to %s\n", m->cut.n_row, o->out);
    return text ? print_out(text) : EXIT_MACHINE;
}

static const usage_form usages[] = {
    {.need = "one layout is needed", .operand = {{"LAYOUT", OPERAND_YAML, 1, 1}}}};

static const option_form options[] = {
    {.name = "--seat",
     .value = "SEAT",
     AS_TEXT(section_options, seat),
     .meaning =
         "through this seat, as seats.csv names it, in the plane in which its C is measured"},
    {.name = "--line",
     .value = "X1,Y1,X2,Y2",
     AS_TEXT(section_options, line),
     .meaning = "along this line on plan, in the layout's own unit, in place of a seat"},
    {.name = "--out",
     .value = "FILE",
     AS_FILE(section_options, out),
     .is_required = true,
     .meaning = "the picture; its name ends in .png, .svg or .pdf"},
    JSON_OPTION(section_options, is_json),
    QUIET_OPTION(section_options, is_quiet)};

static const example_form examples[] = {
    {"gradin section thrust.yaml --seat South-5-12 --out section.png",
     "from that seat to the stage"},
    {"gradin section thrust.yaml --line 14,0,14,32 --out middle.png", "along a line"}};

const verb_form section_verb = {
    .name = "section",
    .summary = "draw a section through a seat or along a line",
    .description =
        "Draws an upright cut through the hall to scale: treads, decks, slabs, rails, the arch, "
        "ceiling, focus and the people of each row, with the rays from a seat to the near and the "
        "far edge of the focus and what hides them. Over each row stands its C; the table below "
        "says what each row sees and what hides the rest, as the table of assess has it.\n\n"
        "A row is shown by its seat nearest to the cut. Its C is measured in that seat's own plane "
        "of view, which may differ from the cut.",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(section_options),
    .run = run_section};
