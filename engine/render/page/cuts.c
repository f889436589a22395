/* Sections through the banks, all to one scale. */
#include "base/lengths.h"
#include "render/page/parts.h"
#include "render/section/cut_page.h"

#include <stdio.h>
#include <string.h>

#define SIDE 64.0  /* heights, left of a section */
#define BELOW 56.0 /* lengths */
#define GAP 28.0
#define WORDS 22.0
enum { TITLE = 320 };
#define MOST_SCALE 30.0 /* page units per metre */

static double low_m(const gradin_cut *cut) {
    return fmin(cut->floor_low_m, 0.0) - 0.4;
}

/* Units per metre at which each section fits its share of the box. */
static double scale_of(const gradin_layout_page *page, double width, double height) {
    double scale = INFINITY;
    for (int i = 0; i < page->n_cut; i++) {
        const gradin_cut *c = &page->cut[i];
        scale = fmin(scale, width / c->length_m);
        scale = fmin(scale, height / (c->model->ceiling_m - low_m(c)));
    }
    return scale;
}

static bool is_named_before(const gradin_cut *cut, int row) {
    for (int i = 0; i < row; i++)
        if (cut->model->seats.block[cut->row[i].seat] ==
            cut->model->seats.block[cut->row[row].seat])
            return true;
    return false;
}

static int blocks_after(const gradin_cut *cut, int row) {
    int n = 0;
    for (int i = row; i < cut->n_row; i++) n += !is_named_before(cut, i);
    return n;
}

/* "Section 1: South, S1 lower and 2 more", as many names as find room. */
static void title_of(canvas *page, text_style style, double width, const gradin_cut *cut,
                     int number, char text[TITLE]) {
    char longer[TITLE];
    int n = snprintf(text, TITLE, "Section %d", number + 1);
    if (cut->seat >= 0) {
        snprintf(text + n, TITLE - (size_t)n, ": through the worst seat, %.80s",
                 cut->model->seats.id[cut->seat]);
        return;
    }
    for (int i = 0, named = 0; i < cut->n_row; i++) {
        if (is_named_before(cut, i)) continue;
        snprintf(longer, sizeof longer, "%.200s%s%.60s", text, named++ ? ", " : ": ",
                 cut->model->block_name[cut->model->seats.block[cut->row[i].seat]]);
        int left = blocks_after(cut, i + 1);
        double kept = left > 0 ? canvas_text_width(page, style, " and 10 more") : 0.0;
        if (named > 1 && canvas_text_width(page, style, longer) + kept > width) {
            snprintf(longer, sizeof longer, "%.200s and %d more", text, left + 1);
            i = cut->n_row;
        }
        memcpy(text, longer, TITLE);
    }
}

static void draw_one(board *s, const gradin_cut *cut, int number, gradin_box2 box, double scale) {
    char title[TITLE];
    label_boxes *labels = gradin_arena_alloc(s->scratch, 1, sizeof *labels);
    if (!labels) {
        s->failed = true;
        return;
    }
    cut_page p = {
        .page = s->page, .cut = cut, .labels = labels, .unit_per_m = scale, .is_brief = true};
    p.z_low_m = low_m(cut);
    p.z_high_m = cut->model->ceiling_m;
    p.left = box.x_min_m + SIDE;
    p.bottom = box.y_max_m - BELOW;
    p.base = p.bottom + p.z_low_m * scale;
    labels->within = (gradin_box2){p.left + 4.0, p.base - p.z_high_m * scale + 2.0,
                                   p.left + cut->length_m * scale - 4.0, p.bottom};
    text_style style = {.size = 17.0, .is_bold = true, .ink = COLOUR_INK};
    title_of(s->page, style, box.x_max_m - box.x_min_m, cut, number, title);
    canvas_text_within(s->page, style, box.x_min_m, box.y_min_m + 18.0, box.x_max_m - box.x_min_m,
                       14.0, title);
    cut_draw_scene(&p);
    cut_draw_axes(&p);
    cut_draw_labels(&p);
}

static void draw_words(board *s, const gradin_layout_page *page, double left, double y,
                       double width) {
    char text[TEXT_CHARS], left_out[80] = "";
    int n = page->n_bank - page->n_bank_cut;
    bool feet = is_feet(page->assessment->model->units);
    if (n > 0)
        snprintf(left_out, sizeof left_out, " %d block%s in no section here: gradin section.", n,
                 n == 1 ? " is" : "s are");
    snprintf(text, sizeof text,
             "Sections to one scale, axes in %s. Over each head: row, and C in %s as measured in "
             "that seat's own plane; none: nobody is in front. Thick line: focus.%s%s",
             feet ? "feet" : "metres", feet ? "inches" : "mm",
             page->worst_cut >= 0 ? " Blue: rays to its edges, dashed beyond what hides them." : "",
             left_out);
    text_style style = {.size = 14.0, .ink = COLOUR_QUIET};
    canvas_text_within(s->page, style, left, y, width, 11.0, text);
}

double board_cuts_height(const gradin_layout_page *page, double width) {
    double most_m = 0.0;
    if (page->n_cut == 0) return 0.0;
    double each = (width - (page->n_cut - 1) * GAP) / page->n_cut;
    double scale = fmin(scale_of(page, each - SIDE - 8.0, INFINITY), MOST_SCALE);
    for (int i = 0; i < page->n_cut; i++)
        most_m = fmax(most_m, page->cut[i].model->ceiling_m - low_m(&page->cut[i]));
    return scale * most_m + PART_HEAD + BELOW + WORDS;
}

void board_draw_cuts(board *s, const gradin_layout_page *page, gradin_box2 box) {
    double width = box.x_max_m - box.x_min_m, height = box.y_max_m - box.y_min_m - WORDS;
    if (page->n_cut == 0) return;
    double each = (width - (page->n_cut - 1) * GAP) / page->n_cut;
    double scale = scale_of(page, each - SIDE - 8.0, height - PART_HEAD - BELOW);
    double x = box.x_min_m;
    for (int i = 0; i < page->n_cut; i++) {
        gradin_box2 own = box_at(x, box.y_min_m, each, height);
        draw_one(s, &page->cut[i], i, own, scale);
        x += each + GAP;
    }
    draw_words(s, page, box.x_min_m, box.y_max_m - 4.0, width);
}
