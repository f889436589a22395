/* The rough checks on the plan, a page with title, key and cautions. */
#include "base/use.h"
#include "gradin/render.h"
#include "render/checks/marks.h"
#include "render/draw/encode.h"
#include "render/maps/legend.h"
#include "render/maps/seats.h"
#include "studies/shared/complete.h"

#include <stdio.h>

static const char caution[] =
    "Rough checks against the venue's own stated rules; they approve and replace nothing. Egress, "
    "guards of edges and loads: the local code, the authority and a licensed professional decide. "
    "Routes are lines over this plan, for a person who walks and sees; figures that no rule is "
    "stated for have no verdict.";

typedef struct sheet_of_checks {
    const gradin_fit *fit;
    colour *fill;    /* [n_seat] */
    bool *is_marked; /* [n_seat] */
    bool *is_over;   /* [n_section] over its load limit */
} sheet_of_checks;

static void draw_title(canvas *page, const gradin_fit *fit) {
    const gradin_model *m = fit->model;
    char text[TEXT_CHARS];
    double width = PAGE_WIDTH - 2.0 * PAGE_MARGIN;
    text_style style = {.size = 36.0, .is_bold = true, .ink = COLOUR_INK};
    canvas_text_within(page, style, PAGE_MARGIN, 72.0, width, 22.0,
                       "Rough checks: routes, exits, edges, loads");
    snprintf(text, sizeof text, "%.200s \xC2\xB7 %.200s", m->layout_name, m->venue_name);
    style = (text_style){.size = 25.0, .ink = COLOUR_INK};
    canvas_text_within(page, style, PAGE_MARGIN, 112.0, width, 17.0, text);
    const char *met =
        fit->is_met ? "what the venue states is met" : "not all that the venue states is met";
    int used = snprintf(text, sizeof text, "%d places, %d of them for wheelchairs \xC2\xB7 %s",
                        m->seats.n_seat, m->seats.n_wheelchair, met);
    int n_row = fit->routes ? fit->routes->n_row_without : 0;
    if (n_row > 0)
        snprintf(text + used, sizeof text - (size_t)used, "; %d row%s no way out", n_row,
                 n_row == 1 ? " has" : "s have");
    style = (text_style){.size = 20.0, .ink = COLOUR_QUIET};
    canvas_text_within(page, style, PAGE_MARGIN, 146.0, width, 15.0, text);
    canvas_line(page, (gradin_vec2){PAGE_MARGIN, 164.0},
                (gradin_vec2){PAGE_WIDTH - PAGE_MARGIN, 164.0}, COLOUR_FAINT, 1.2);
}

static void draw_foot(canvas *page, const view *v, const gradin_model *model) {
    char text[TEXT_CHARS];
    double width = PAGE_WIDTH - 2.0 * PAGE_MARGIN;
    canvas_line(page, (gradin_vec2){PAGE_MARGIN, v->foot_top},
                (gradin_vec2){PAGE_WIDTH - PAGE_MARGIN, v->foot_top}, COLOUR_FAINT, 1.2);
    text_style style = {.size = 18.5, .ink = COLOUR_INK};
    double y = canvas_text_wrapped(page, style, PAGE_MARGIN, v->foot_top + 28.0, width, caution);
    style = (text_style){.size = 16.0, .ink = COLOUR_QUIET};
    snprintf(text, sizeof text, "gradin " GRADIN_VERSION " \xC2\xB7 input digest %.32s",
             model->digest);
    canvas_text_within(page, style, PAGE_MARGIN, y + 4.0, width, 13.0, text);
}

static int seat_of(const gradin_seats *seats, const char *id) {
    for (int i = 0; i < seats->n_seat; i++)
        if (seats->id[i] == id) return i;
    return 0;
}

/* White: a way out; grey with a slash: none, or over a rule; light grey: not looked at. */
static void fill_seats(const sheet_of_checks *s) {
    const gradin_seats *seats = &s->fit->model->seats;
    const gradin_routes *r = s->fit->routes;
    for (int i = 0; i < seats->n_seat; i++) s->fill[i] = COLOUR_WHITE;
    for (int k = 0; k < r->n_route; k++) {
        const gradin_route *route = &r->route[k];
        bool is_bad = route->state == GRADIN_WAY_NONE || route->is_long || route->is_narrow;
        double grey = is_bad ? 0.55 : route->state == GRADIN_WAY_NOT_LOOKED ? 0.84 : 1.0;
        int last = seat_of(seats, route->last_seat);
        for (int i = seat_of(seats, route->first_seat); i <= last; i++) {
            if ((seats->kind[i] == GRADIN_SEAT_WHEELCHAIR) != route->is_wheelchair) continue;
            s->fill[i] = (colour){grey, grey, grey};
            s->is_marked[i] = is_bad;
        }
    }
}

static void draw_page(canvas *page, const view *v, const sheet_of_checks *s, label_grid *grid) {
    plan p = {page, v, s->fit->model, grid, 0, GRADIN_SHADES_AS_SET, s->is_over};
    const gradin_seats *seats = &p.model->seats;
    draw_title(page, s->fit);
    plan_draw_ground(&p);
    marks_draw_ground(&p);
    seats_take(grid, v, seats, 0);
    seats_draw_others(page, v, seats, 0);
    seats_draw_plain(page, v, seats, 0, s->fill, s->is_marked);
    plan_draw_structure(&p);
    plan_take_facade(&p);
    plan_draw_facade(&p);
    marks_draw(&p, s->fit);
    plan_name_focus(&p);
    plan_draw_names(&p);
    legend_draw_scale_strip(page, v, p.model);
    key_draw(page, v, s->fit);
    draw_foot(page, v, p.model);
}

static gradin_status encode(gradin_arena *arena, gradin_arena *scratch, canvas *page,
                            const gradin_model *model, unsigned char **bytes, size_t *size,
                            gradin_error *error) {
    char title[TEXT_CHARS];
    snprintf(title, sizeof title, "Rough checks: %.200s", model->layout_name);
    const encode_note note[] = {{"Title", title},
                                {"Warning", caution},
                                {"Software", "gradin " GRADIN_VERSION},
                                {"Layout", model->layout_name},
                                {"Source", model->digest}};
    return encode_picture(arena, scratch, page, note, (int)(sizeof note / sizeof note[0]), bytes,
                          size, error);
}

static gradin_status render(gradin_arena *arena, gradin_arena *scratch, const gradin_fit *fit,
                            gradin_picture format, const view *v, unsigned char **bytes,
                            size_t *size, gradin_error *error) {
    size_t n = (size_t)fit->model->seats.n_seat + 1;
    sheet_of_checks s = {.fit = fit};
    label_grid grid;
    canvas page;
    s.fill = gradin_arena_alloc(scratch, n, sizeof *s.fill);
    s.is_marked = gradin_arena_alloc(scratch, n, sizeof *s.is_marked);
    s.is_over = gradin_arena_alloc(scratch, (size_t)fit->model->n_section + 1, sizeof *s.is_over);
    if (!s.fill || !s.is_marked || !s.is_over)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    gradin_status status = labels_open(&grid, scratch, v, error);
    if (status != GRADIN_OK) return status;
    fill_seats(&s);
    marks_find_overloads(fit, s.is_over);
    status = canvas_open_as(&page, scratch, format, PAGE_WIDTH, v->page_height, v->zoom, error);
    if (status == GRADIN_OK) {
        draw_page(&page, v, &s, &grid);
        status = canvas_status(&page, error);
    }
    if (status == GRADIN_OK) status = encode(arena, scratch, &page, fit->model, bytes, size, error);
    canvas_close(&page);
    return status;
}

gradin_status gradin_fit_picture(gradin_arena *arena, const gradin_fit *fit, gradin_picture format,
                                 unsigned char **bytes, size_t *size, gradin_error *error) {
    view v;
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK || fit_complete(fit, error) != GRADIN_OK ||
        NEEDS(error, fit->routes) != GRADIN_OK || picture_check(format, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (!view_of(fit->model, &v))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "the model has no extent on plan");
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    gradin_status status = render(arena, scratch, fit, format, &v, bytes, size, error);
    gradin_arena_destroy(scratch);
    return status;
}
