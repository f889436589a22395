/* The page of a cut: title, what its rays meet, the cut to scale, its key, its rows, cautions. */
#include "render/section/cut_page.h"
#include "base/lengths.h"
#include "base/shared/plain.h"
#include "base/use.h"
#include "render/draw/encode.h"

#include <stdio.h>

#define CUT_FOOT 92.0
static const double WIDTH = CUT_WIDTH - 2.0 * PAGE_MARGIN;

/* What the table leaves. */
static double most_height(const gradin_cut *cut) {
    double table = 23.0 * ((cut->n_row + 2) / 3 + 2);
    return fmin(fmax(CUT_HEIGHT - CUT_FOOT - CUT_TOP - CUT_KEY - table, CUT_LEAST_HEIGHT),
                CUT_MOST_HEIGHT);
}

cut_page cut_page_of(canvas *page, const gradin_cut *cut, label_boxes *labels) {
    cut_page p = {.page = page, .cut = cut, .labels = labels};
    p.z_low_m = fmin(cut->floor_low_m, 0.0) - 0.4;
    p.z_high_m = cut->model->ceiling_m;
    double height_m = p.z_high_m - p.z_low_m;
    p.unit_per_m = fmin((WIDTH - CUT_AXIS) / cut->length_m, most_height(cut) / height_m);
    double spare = WIDTH - CUT_AXIS - cut->length_m * p.unit_per_m;
    p.left = PAGE_MARGIN + CUT_AXIS + 0.5 * spare;
    p.base = CUT_TOP + p.z_high_m * p.unit_per_m;
    p.bottom = p.base - p.z_low_m * p.unit_per_m;
    labels->within = (gradin_box2){p.left + 4.0, CUT_TOP + 2.0,
                                   p.left + cut->length_m * p.unit_per_m - 4.0, p.bottom};
    labels->n = labels->n_taken = 0;
    return p;
}

static void edge_text(const char *edge, const gradin_cut_ray *ray, char *text, size_t size) {
    if (ray->blocked)
        snprintf(text, size, "%s edge hidden by %.80s", edge, ray->blocked);
    else
        snprintf(text, size, "%s edge seen", edge);
}

static void rays_text(const gradin_cut *c, char *text, size_t size) {
    char near_text[120], far_text[120];
    if (c->seat < 0) {
        snprintf(text, size, "%d rows beside the line", c->n_row);
        return;
    }
    double sees = 100.0 * c->sight->visible[c->seat];
    if (isnan(c->near_edge.to_m.x)) {
        plain_print(text, size,
                    "The seat sees %.1f %% of the focus; no floor of it lies in the cut", sees);
        return;
    }
    edge_text("near", &c->near_edge, near_text, sizeof near_text);
    edge_text("far", &c->far_edge, far_text, sizeof far_text);
    plain_print(text, size, "The seat sees %.1f %% of the focus; in the cut: %s, %s", sees,
                near_text, far_text);
}

static void draw_words(canvas *page, const gradin_cut *c) {
    char text[TEXT_CHARS], length[LENGTH_CHARS];
    text_style style = {.size = 36.0, .is_bold = true, .ink = COLOUR_INK};
    if (c->seat >= 0)
        snprintf(text, sizeof text, "Section through seat %.100s", c->model->seats.id[c->seat]);
    else
        snprintf(text, sizeof text, "Section along a line");
    canvas_text_within(page, style, PAGE_MARGIN, 68.0, WIDTH, 22.0, text);
    style = (text_style){.size = 25.0, .ink = COLOUR_INK};
    snprintf(text, sizeof text, "%.200s \xC2\xB7 %.200s", c->model->layout_name,
             c->model->venue_name);
    canvas_text_within(page, style, PAGE_MARGIN, 106.0, WIDTH, 17.0, text);
    style = (text_style){.size = 24.0, .is_bold = true, .ink = COLOUR_INK};
    rays_text(c, text, sizeof text);
    canvas_text_within(page, style, PAGE_MARGIN, 144.0, WIDTH, 15.0, text);
    style = (text_style){.size = 19.0, .ink = COLOUR_QUIET};
    plain_print(text, sizeof text,
                "%s \xC2\xB7 %.40s long, bearing %.0f\xC2\xB0 from its left end \xC2\xB7 to scale",
                c->seat >= 0 ? "the plane in which its C is measured" : "an upright plane",
                length_text(length, c->length_m, length_unit_of(c->model->units)),
                gradin_deg(atan2(c->unit.x, c->unit.y)) + (c->unit.x < 0.0 ? 360.0 : 0.0));
    canvas_text_within(page, style, PAGE_MARGIN, 176.0, WIDTH, 14.0, text);
}

static void draw_key(const cut_page *p) {
    char text[TEXT_CHARS];
    text_style style = {.size = 17.0, .ink = COLOUR_QUIET};
    bool is_foot = is_feet(p->cut->model->units);
    snprintf(
        text, sizeof text,
        "Axes in %s. Over each head: row, and C in %s as in the table of seats, over whoever is "
        "in front in that seat's own plane; none: nobody is. Thick line: focus. Blue: rays to "
        "its edges, dashed beyond what hides them. People sit in the row's seat nearest to the "
        "cut: a ray may pass beside them.",
        is_foot ? "feet" : "metres", is_foot ? "inches" : "mm");
    canvas_text_wrapped(p->page, style, PAGE_MARGIN, p->bottom + 80.0, WIDTH, text);
}

static void draw_foot(canvas *page, const gradin_cut *c) {
    char text[TEXT_CHARS];
    text_style style = {.size = 18.5, .ink = COLOUR_INK};
    canvas_text_within(page, style, PAGE_MARGIN, CUT_HEIGHT - 52.0, WIDTH, 15.0,
                       "Predicted from the layout's geometry, not measured. Rails, guards, steps, "
                       "egress and loads: the local code and a licensed professional decide.");
    snprintf(text, sizeof text, "gradin " GRADIN_VERSION " \xC2\xB7 input digest %.32s",
             c->model->digest);
    style = (text_style){.size = 16.0, .ink = COLOUR_QUIET};
    canvas_text_within(page, style, PAGE_MARGIN, CUT_HEIGHT - 24.0, WIDTH, 13.0, text);
}

void cut_draw(canvas *page, const gradin_cut *cut, label_boxes *labels) {
    cut_page p = cut_page_of(page, cut, labels);
    draw_words(page, cut);
    cut_draw_scene(&p);
    cut_draw_axes(&p);
    cut_draw_labels(&p);
    draw_key(&p);
    cut_draw_table(&p, p.bottom + CUT_KEY, CUT_HEIGHT - CUT_FOOT);
    draw_foot(page, cut);
}

static gradin_status render(gradin_arena *arena, gradin_arena *scratch, const gradin_cut *cut,
                            gradin_picture format, unsigned char **bytes, size_t *size,
                            gradin_error *error) {
    canvas page;
    label_boxes *labels = gradin_arena_alloc(scratch, 1, sizeof *labels);
    if (!labels) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    gradin_status status =
        canvas_open_as(&page, scratch, format, CUT_WIDTH, CUT_HEIGHT, 1.0, error);
    if (status == GRADIN_OK) {
        cut_draw(&page, cut, labels);
        status = canvas_status(&page, error);
    }
    const picture_of of = {"Section", cut->model->layout_name, cut->model->digest};
    return picture_end(arena, scratch, &page, status, of, bytes, size, error);
}

static gradin_status check(const gradin_cut *c, gradin_error *error) {
    bool is_whole =
        c && c->model && c->sight && c->model->seats.id && c->model->layout_name &&
        c->model->venue_name && c->length_m > 0.0 && c->seat < c->model->seats.n_seat &&
        (c->n_part == 0 || c->part) && (c->n_ring == 0 || c->ring) &&
        (c->n_trace == 0 || c->trace) && (c->n_focus == 0 || c->focus) &&
        (c->n_row == 0 || (c->row && c->sight->c_m && c->sight->visible && c->sight->hidden));
    if (is_whole) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_BAD_USE, NULL, "the section is not whole");
}

gradin_status gradin_cut_picture(gradin_arena *arena, const gradin_cut *cut, gradin_picture format,
                                 unsigned char **bytes, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK || check(cut, error) != GRADIN_OK ||
        picture_check(format, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a picture");
    gradin_status status = render(arena, scratch, cut, format, bytes, size, error);
    gradin_arena_destroy(scratch);
    return status;
}
