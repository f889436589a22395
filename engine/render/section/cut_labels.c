/* Names of what is cut, and of the rows with their C. */
#include "base/lengths.h"
#include "render/section/cut_page.h"

#include <stdio.h>
#include <string.h>

#define LABEL_SIZE 16.0
#define LINE 19.0
#define LEAST_PITCH 7.0 /* page units between two rows */
#define LABEL_PITCH 40.0

void cut_row_name(const gradin_cut *cut, int row, char *text, size_t size) {
    const gradin_seats *s = &cut->model->seats;
    int seat = cut->row[row].seat;
    const char *label = s->row_label ? s->row_label[seat] : NULL, *block = "";
    if (s->block[seat] >= 0 && s->block[seat] < cut->model->n_block)
        block = cut->model->block_name[s->block[seat]];
    if (label)
        snprintf(text, size, "%.60s %.12s", block, label);
    else
        snprintf(text, size, "%.60s %d", block, s->row[seat]);
}

/* The first row of a block along the line has the block's name, too. */
static void row_text(const gradin_cut *cut, int row, char *text, size_t size) {
    const gradin_seats *s = &cut->model->seats;
    int seat = cut->row[row].seat;
    bool is_first = true;
    for (int i = 0; i < row; i++) is_first &= s->block[cut->row[i].seat] != s->block[seat];
    if (is_first)
        cut_row_name(cut, row, text, size);
    else if (s->row_label && s->row_label[seat])
        snprintf(text, size, "%.12s", s->row_label[seat]);
    else
        snprintf(text, size, "%d", s->row[seat]);
}

static void lead(const cut_page *p, gradin_box2 box, gradin_vec2 to) {
    gradin_vec2 from = {0.5 * (box.x_min_m + box.x_max_m), box.y_max_m};
    if (to.y - from.y > 14.0) canvas_line(p->page, from, to, COLOUR_FAINT, 1.0);
}

/* The row's letter, below it C where there is one. */
static void label_row(const cut_page *p, int row) {
    const gradin_cut *c = p->cut;
    char name[80], value[LENGTH_CHARS] = "";
    int seat = c->row[row].seat;
    row_text(c, row, name, sizeof name);
    length_number(value, c->sight->c_m[seat], small_unit_of(c->model->units));
    text_style style = {
        .size = LABEL_SIZE, .is_bold = true, .align = TEXT_CENTRE, .ink = COLOUR_INK};
    double width =
        fmax(canvas_text_width(p->page, style, name), canvas_text_width(p->page, style, value)) +
        8.0;
    double height = LINE * (value[0] ? 2.0 : 1.0);
    double crown_m = c->model->seats.eye_m[seat].z + c->model->audience.crown_m;
    gradin_vec2 top = cut_point(p, c->row[row].x_m, crown_m);
    gradin_box2 box;
    if (!boxes_place(p->labels, (gradin_vec2){top.x, top.y - 5.0}, width, height, 7.0, 40, &box))
        return;
    lead(p, box, top);
    double x = 0.5 * (box.x_min_m + box.x_max_m);
    canvas_text(p->page, style, x, box.y_min_m + 15.0, name);
    if (!value[0]) return;
    gradin_rating class = c->sight->c_class ? c->sight->c_class[seat] : GRADIN_N_RATING;
    style.ink =
        class == GRADIN_RATING_POOR ? (colour){0.70, 0.24, 0.00} : (colour){0.00, 0.32, 0.62};
    canvas_text(p->page, style, x, box.y_min_m + LINE + 15.0, value);
}

static bool is_named(const gradin_model *m, const char *name) {
    for (int i = 0; i < m->n_solid; i++)
        if (m->solid[i].name == name) return true;
    for (int i = 0; i < m->n_rail; i++)
        if (m->rail[i].name == name) return true;
    return false;
}

static void label_part(const cut_page *p, const gradin_cut_part *part) {
    text_style style = {.size = 15.0,
                        .align = TEXT_CENTRE,
                        .ink = COLOUR_QUIET,
                        .halo = 4.0,
                        .halo_ink = COLOUR_WHITE};
    gradin_vec2 top = cut_point(p, 0.5 * (part->x_m[0] + part->x_m[1]), part->z_m[1]);
    gradin_box2 box;
    char name[64];
    snprintf(name, sizeof name, "%.60s", part->name);
    double width = canvas_text_width(p->page, style, name) + 8.0;
    gradin_vec2 below = cut_point(p, 0.5 * (part->x_m[0] + part->x_m[1]), part->z_m[0]);
    if (!boxes_place(p->labels, (gradin_vec2){top.x, top.y - 4.0}, width, 18.0, 7.0, 60, &box) &&
        !boxes_place(p->labels, (gradin_vec2){below.x, below.y + 22.0}, width, 18.0, -7.0, 20,
                     &box))
        return;
    lead(p, box, top);
    canvas_text(p->page, style, 0.5 * (box.x_min_m + box.x_max_m), box.y_max_m - 4.0, name);
}

static bool is_first_of_name(const gradin_cut *c, int part) {
    for (int i = 0; i < part; i++)
        if (c->part[i].name == c->part[part].name) return false;
    return true;
}

static void take_person(const cut_page *p, const gradin_cut_row *row) {
    const gradin_model *m = p->cut->model;
    double crown_m = m->seats.eye_m[row->seat].z + m->audience.crown_m;
    gradin_vec2 a = cut_point(p, row->x_m - 0.22, crown_m);
    gradin_vec2 b = cut_point(p, row->x_m + 0.22, m->seats.floor_m[row->seat].z);
    boxes_take(p->labels, (gradin_box2){a.x, a.y, b.x, b.y});
}

/* Of rows that lie closer than their labels are wide only every so many has one. */
static int label_step(const cut_page *p) {
    const gradin_cut *c = p->cut;
    if (c->n_row < 2) return 1;
    double pitch = (c->row[c->n_row - 1].x_m - c->row[0].x_m) * p->unit_per_m / (c->n_row - 1);
    return pitch < LEAST_PITCH ? (int)ceil(LABEL_PITCH / fmax(pitch, 0.1)) : 1;
}

void cut_draw_labels(const cut_page *p) {
    const gradin_cut *c = p->cut;
    int step = label_step(p);
    for (int i = 0; i < c->n_row; i++) take_person(p, &c->row[i]);
    for (int i = 0; i < c->n_row; i += step) label_row(p, i);
    for (int i = 0; i < c->n_part && !p->is_brief; i++)
        if (c->part[i].name && is_named(c->model, c->part[i].name) && is_first_of_name(c, i))
            label_part(p, &c->part[i]);
}
