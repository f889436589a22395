/* gradin view LAYOUT --seat SEAT --out FILE: the view from a seat. Nothing is created before
 * all computing has succeeded. */
#include "command.h"
#include "gradin/studies/view_picture.h"
#include "gradin/studies/view_write.h"
#include "gradin/studies/viewpoints.h"

#include <stdlib.h>
#include <string.h>

typedef struct view_options {
    const char *seat, *out, *size;
    double fov_deg;
    bool is_panorama, is_sheet, is_json, is_quiet;
} view_options;

/* "1280x800". */
static bool parse_size(const char *text, gradin_view_options *how) {
    char *end = NULL;
    if (!text) return true;
    long width = strtol(text, &end, 10);
    if (end == text || *end != 'x') return false;
    const char *second = end + 1;
    long height = strtol(second, &end, 10);
    if (end == second || *end != '\0' || strpbrk(text, "+- ")) return false;
    if (width < GRADIN_VIEW_LEAST_PX || width > GRADIN_VIEW_MOST_PX ||
        height < GRADIN_VIEW_LEAST_PX || height > GRADIN_VIEW_MOST_PX)
        return false;
    how->width_px = (int)width;
    how->height_px = (int)height;
    return true;
}

static int check_words(const view_options *o, gradin_view_options *how, gradin_picture *format) {
    double least = o->is_panorama ? 60.0 : 20.0, most = o->is_panorama ? 360.0 : 120.0;
    if (!picture_of_name("view", o->out, format)) return EXIT_INPUT;
    if (!parse_size(o->size, how)) {
        say("view: --size is '%s'; two numbers of %d to %d are needed, such as 1280x800", o->size,
            GRADIN_VIEW_LEAST_PX, GRADIN_VIEW_MOST_PX);
        return EXIT_INPUT;
    }
    if (o->fov_deg != 0.0 && !(o->fov_deg >= least && o->fov_deg <= most)) {
        say("view: --fov is %g; %g to %g is allowed%s", o->fov_deg, least, most,
            o->is_panorama ? "" : ", up to 360 with --panorama");
        return EXIT_INPUT;
    }
    how->fov_deg = o->fov_deg;
    how->is_panorama = o->is_panorama;
    return EXIT_DONE;
}

/* What is made of a layout. */
typedef struct made {
    gradin_model model;
    gradin_view view[GRADIN_MAX_VIEW];
    gradin_view_entry entry[GRADIN_MAX_VIEW];
    int n;
    gradin_picture format;
    unsigned char *picture;
    size_t picture_size;
    char *text, *json;
} made;

static gradin_status look(const gradin_view_options *how, gradin_arena *arena, int seat,
                          const char *title, made *m, gradin_error *error) {
    gradin_view *view = &m->view[m->n];
    m->entry[m->n++] = (gradin_view_entry){view, title};
    gradin_status s = gradin_view_compute(arena, &m->model, seat, how, view, error);
    if (s != GRADIN_OK) return s;
    m->text = gradin_arena_print(arena, "%s%s%s%s sees %.1f %% of the focus\n", m->text,
                                 title ? title : "", title ? ": " : "", m->model.seats.id[seat],
                                 100.0 * view->visible);
    return m->text ? GRADIN_OK : gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

static gradin_status make_one(const view_options *o, const gradin_view_options *how,
                              gradin_arena *arena, made *m, gradin_error *error) {
    int seat = -1;
    gradin_status s = gradin_viewpoint_named(&m->model, o->seat, &seat, error);
    if (s == GRADIN_OK) s = look(how, arena, seat, NULL, m, error);
    return s == GRADIN_OK ? gradin_view_picture(arena, &m->view[0], m->format, &m->picture,
                                                &m->picture_size, error)
                          : s;
}

static gradin_status make_sheet(const view_options *o, gradin_view_options how, gradin_arena *arena,
                                made *m, gradin_error *error) {
    gradin_sight sight;
    gradin_viewpoint *point = NULL;
    int n = 0;
    if (!o->size) {
        how.width_px = 640;
        how.height_px = 400;
    }
    gradin_status s = gradin_sight_compute(arena, &m->model, NULL, &sight, error);
    if (s == GRADIN_OK)
        s = gradin_viewpoints_choose(arena, &m->model, &sight, GRADIN_MAX_VIEW, &point, &n, error);
    for (int i = 0; s == GRADIN_OK && i < n; i++)
        s = look(&how, arena, point[i].seat, point[i].title, m, error);
    if (s != GRADIN_OK) return s;
    return gradin_view_sheet_picture(arena, m->entry, m->n, m->format, &m->picture,
                                     &m->picture_size, error);
}

enum { USAGE_SEAT, USAGE_SHEET };

static gradin_status make(const view_options *o, const operands *given,
                          const gradin_view_options *how, gradin_arena *arena, made *m,
                          gradin_error *error) {
    size_t size = 0;
    m->text = "";
    gradin_status s = gradin_model_read(arena, given->text[0], &m->model, error);
    if (s != GRADIN_OK) return s;
    s = given->usage == USAGE_SHEET ? make_sheet(o, *how, arena, m, error)
                                    : make_one(o, how, arena, m, error);
    if (s == GRADIN_OK) s = gradin_views_json(arena, m->entry, m->n, &m->json, &size, error);
    return s;
}

static int run_view(const void *options, const operands *given, gradin_arena *arena,
                    gradin_error *error) {
    const view_options *o = options;
    gradin_view_options how = {0};
    gradin_picture format = GRADIN_PICTURE_PNG;
    int result = check_words(o, &how, &format);
    if (result != EXIT_DONE) return result;
    made *m = gradin_arena_alloc(arena, 1, sizeof *m);
    if (!m) return report(gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory"), error);
    m->format = format;
    gradin_status s = make(o, given, &how, arena, m, error);
    if (s == GRADIN_OK) s = gradin_write_file(o->out, m->picture, m->picture_size, error);
    if (s != GRADIN_OK) return report(s, error);
    if (o->is_json) return print_out(m->json);
    if (o->is_quiet) return EXIT_DONE;
    const char *text = gradin_arena_print(arena, "%swritten to %s\n", m->text, o->out);
    return text ? print_out(text) : EXIT_MACHINE;
}

static const usage_form usages[] = {
    {.need = "one layout is needed", .operand = {{"LAYOUT", OPERAND_YAML, 1, 1}}},
    {.selector = "--sheet",
     .need = "one layout is needed",
     .operand = {{"LAYOUT", OPERAND_YAML, 1, 1}}}};

static const option_form options[] = {
    {.name = "--seat",
     .value = "SEAT",
     AS_TEXT(view_options, seat),
     .usages = 1u << USAGE_SEAT,
     .is_required = true,
     .meaning = "the seat, as seats.csv names it"},
    {.name = "--sheet",
     AS_FLAG(view_options, is_sheet),
     .usages = 1u << USAGE_SHEET,
     .meaning = "twelve seats chosen by what they see, on an A3 sheet"},
    {.name = "--out",
     .value = "FILE",
     AS_FILE(view_options, out),
     .is_required = true,
     .meaning = "the picture; its name ends in .png, .svg or .pdf"},
    {.name = "--fov",
     .value = "DEGREES",
     AS_NUMBER(view_options, fov_deg),
     .unit = "degrees",
     .least = 20,
     .most = 360,
     .absent = "70, or 180 with --panorama",
     .meaning = "field of view across the picture; above 120 only with --panorama"},
    {.name = "--size",
     .value = "WxH",
     AS_TEXT(view_options, size),
     .absent = "1280x800, on a sheet 640x400",
     .meaning = "pixels of the view, without the figures below it, 64 to 4096 each"},
    {.name = "--panorama",
     AS_FLAG(view_options, is_panorama),
     .meaning = "all round the eye, on a cylinder, in place of a plane picture"},
    JSON_OPTION(view_options, is_json),
    QUIET_OPTION(view_options, is_quiet)};

static const example_form examples[] = {
    {"gradin view thrust.yaml --seat South-5-3 --out view.png", "what that seat sees"},
    {"gradin view thrust.yaml --sheet --out views.png", "twelve seats from the best to the worst"}};

const verb_form view_verb = {
    .name = "view",
    .summary = "draw the view from a seat",
    .description =
        "Draws what a seat looks at, by the same eye, occluders and rays as the table of assess: "
        "heads and shoulders ahead, rails, decks, the arch, set pieces and meshes, with glass, "
        "shades, floor and walls. What hides part of the focus is hatched. The caption gives the "
        "share that the seat sees, as the table has it, and what hides the rest. Figures of 1.7 m "
        "and squares of 1 m on the floors of the focus show the size.\n\n"
        "Figures, chests and chairs are drawn only and hide nothing in the count. Light, materials "
        "and what no file states are not shown.",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(view_options),
    .run = run_view};
