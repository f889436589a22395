/* The text of a drafted layout, as a person would write it, with what to mind beside it. Lengths in
 * the units of the wishes. */
#include "studies/draft/draft.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

typedef struct writer {
    const draft_job *job;
    char *bytes;
    size_t size, capacity;
    bool failed;
} writer;

static void put(writer *out, const char *format, ...) __attribute__((format(printf, 2, 3)));

static bool make_room(writer *out, size_t more) {
    if (out->size + more < out->capacity) return true;
    size_t capacity = 2 * (out->capacity + more) + 4096;
    char *bytes = gradin_arena_alloc(out->job->arena, capacity, 1);
    if (!bytes) return false;
    if (out->size > 0) memcpy(bytes, out->bytes, out->size);
    out->bytes = bytes;
    out->capacity = capacity;
    return true;
}

static void put(writer *out, const char *format, ...) {
    char text[1200];
    va_list arguments;
    va_start(arguments, format);
    int n = vsnprintf(text, sizeof text, format, arguments);
    va_end(arguments);
    if (n < 0 || (size_t)n >= sizeof text || !make_room(out, (size_t)n)) {
        out->failed = true;
        return;
    }
    memcpy(out->bytes + out->size, text, (size_t)n + 1);
    out->size += (size_t)n;
}

/* A name or file as a YAML scalar that holds any character. */
static void put_quoted(writer *out, const char *text) {
    put(out, "\"");
    for (; *text; text++) put(out, *text == '"' || *text == '\\' ? "\\%c" : "%c", *text);
    put(out, "\"");
}

static bool is_plain(const char *text) {
    for (const char *c = text; *c; c++) {
        bool is_letter = (*c >= 'a' && *c <= 'z') || (*c >= 'A' && *c <= 'Z');
        bool is_inner = (*c >= '0' && *c <= '9') || strchr("_./- ", *c);
        if (!is_letter && (c == text ? *c != '.' && *c != '/' : !is_inner)) return false;
    }
    return text[0] != '\0' && text[strlen(text) - 1] != ' ' && strcmp(text, "yes") != 0 &&
           strcmp(text, "no") != 0 && strcmp(text, "true") != 0 && strcmp(text, "false") != 0 &&
           strcmp(text, "null") != 0;
}

static void put_name(writer *out, const char *text) {
    if (is_plain(text))
        put(out, "%s", text);
    else
        put_quoted(out, text);
}

/* Without the zeros at the end. */
static void put_number(writer *out, double value, int decimals) {
    char text[400];
    gradin_format_fixed(text, sizeof text, value, decimals);
    char *end = text + strlen(text);
    while (strchr(text, '.') && end > text && (end[-1] == '0' || end[-1] == '.')) {
        bool is_point = *--end == '.';
        *end = '\0';
        if (is_point) break;
    }
    put(out, "%s", text[0] && strcmp(text, "-0") != 0 ? text : "0");
}

static void put_length(writer *out, double length_m) {
    put_number(out, length_m / out->job->w->unit_m, out->job->w->unit_m == 1.0 ? 4 : 9);
}

static void put_point(writer *out, gradin_vec2 point_m) {
    put(out, "[");
    put_length(out, point_m.x);
    put(out, ", ");
    put_length(out, point_m.y);
    put(out, "]");
}

static void put_points(writer *out, const gradin_vec2 *point_m, int n) {
    for (int i = 0; i < n; i++) {
        put(out, i > 0 ? ", " : "[");
        put_point(out, point_m[i]);
    }
    put(out, "]");
}

static void put_box(writer *out, gradin_box2 box) {
    gradin_vec2 corner_m[4];
    draft_box_corners(box, corner_m);
    put_points(out, corner_m, 4);
}

static const char *file_part(const char *path) {
    const char *slash = strrchr(path, '/');
    return slash ? slash + 1 : path;
}

static void put_head(writer *out) {
    const draft_job *job = out->job;
    static const char *const form[] = {"end_stage", "thrust", "round", "traverse", "flat_floor"};
    put(out, "# Drafted by gradin from the wishes of %s: a start to edit.\n",
        file_part(job->w->file));
    put(out, "# It approves nothing: rails, guards, egress, loads and moving machinery are for the "
             "local code,\n# the makers' procedure and a licensed professional.\n");
    put(out, "format: gradin-layout-1\nunits: %s\nvenue: ", job->w->units);
    put_name(out, job->venue);
    if (job->brief) put(out, "\nbrief: ");
    if (job->brief) put_name(out, job->brief);
    if (job->overflight) put(out, "\noverflight: ");
    if (job->overflight) put_name(out, job->overflight);
    put(out, "\nname: ");
    put_name(out, job->w->name);
    put(out, "\nform: %s\n", form[job->w->form]);
    if (job->w->form == GRADIN_FORM_END_STAGE || job->w->form == GRADIN_FORM_FLAT_FLOOR)
        put(out, "axis_deg: %d\n", 90 * job->quarter);
}

static const char *section(const draft_job *job, int grid, int column, int row) {
    return job->hall->section[gradin_section_index(job->hall, grid, column, row)].name;
}

static void put_cells(writer *out, int grid, draft_cells c) {
    put(out, "from: %s", section(out->job, grid, c.c0, c.r0));
    put(out, ", to: %s", section(out->job, grid, c.c1 - 1, c.r1 - 1));
}

static void put_flat(writer *out, int grid, draft_cells c, double height_m) {
    put(out, "    - {");
    put_cells(out, grid, c);
    put(out, ", height: ");
    put_length(out, height_m);
    put(out, "}\n");
}

static draft_cells rank_cells(const draft_bank *bank, int rank) {
    draft_cells c = bank->cells;
    switch (bank->quarter) {
    case 0:
        return (draft_cells){c.c0, c.c1, c.r1 - 1 - rank, c.r1 - rank};
    case 1:
        return (draft_cells){c.c1 - 1 - rank, c.c1 - rank, c.r0, c.r1};
    case 2:
        return (draft_cells){c.c0, c.c1, c.r0 + rank, c.r0 + rank + 1};
    default:
        return (draft_cells){c.c0 + rank, c.c0 + rank + 1, c.r0, c.r1};
    }
}

static void put_ranks(writer *out, const draft_bank *bank) {
    put(out, "    # %s: each rank of sections from the front\n", bank->name);
    for (int rank = 0; rank < bank->n_rank; rank++) {
        int n_step = bank->is_front && rank == 0 ? 1 : bank->n_step;
        if (n_step == 1) {
            put_flat(out, out->job->main, rank_cells(bank, rank), bank->height_m[rank]);
            continue;
        }
        put(out, "    - {");
        put_cells(out, out->job->main, rank_cells(bank, rank));
        put(out, ", height: ");
        put_length(out, bank->height_m[rank]);
        put(out, ", terrace: {steps: %d, riser: ", n_step);
        put_length(out, bank->riser_m[rank]);
        put(out, ", facing_deg: %d}}\n", 90 * bank->quarter);
    }
}

static void put_lifts(writer *out, const draft_scheme *scheme) {
    const draft_job *job = out->job;
    const int *s = job->stage;
    put(out, "  lifts:\n    # the stage\n");
    for (int i = 0; i < job->hall->n_grid; i++) {
        const gradin_lift_grid *g = &job->hall->grid[i];
        draft_cells all = {0, g->n_column, 0, g->n_row};
        if (job->is_stage_grid[i]) put_flat(out, i, all, job->w->stage_height_m);
    }
    if (s[3] > s[2])
        put_flat(out, job->main, draft_cells_of(job, s[0], s[1], s[2], s[3]),
                 job->w->stage_height_m);
    for (int i = 0; i < scheme->n_bank; i++) put_ranks(out, &scheme->bank[i]);
}

static bool has_lifts(const draft_job *job, const draft_scheme *scheme) {
    bool any = scheme->n_bank > 0 || job->stage[3] > job->stage[2];
    for (int i = 0; i < job->hall->n_grid; i++) any |= job->is_stage_grid[i];
    return any;
}

static void put_towers(writer *out, const draft_scheme *scheme) {
    const gradin_venue *hall = out->job->hall;
    bool is_first = true;
    for (int i = 0; i < hall->n_tower; i++) {
        const draft_tower *t = &scheme->tower[i];
        if (!t->is_seated && t->hoist_m == 0.0 && t->slide_m == 0.0) continue;
        if (is_first) put(out, "  towers:\n");
        is_first = false;
        put(out, "    - {name: ");
        put_name(out, hall->tower[i].name);
        put(out, ", hoist: ");
        put_length(out, t->hoist_m);
        put(out, ", slide: ");
        put_length(out, t->slide_m);
        put(out, t->is_seated ? "}\n" : ", seated: no}\n");
    }
}

static void put_machines(writer *out, const draft_scheme *scheme) {
    const gradin_venue *hall = out->job->hall;
    const gradin_wishes *w = out->job->w;
    put(out, "machines:\n");
    if (has_lifts(out->job, scheme)) put_lifts(out, scheme);
    put_towers(out, scheme);
    if (w->has_arch) {
        put(out, "  arch: {in: yes, opening: ");
        put_length(out, w->arch_opening_m);
        put(out, ", trim: ");
        put_length(out, w->arch_trim_m);
        put(out, "}\n");
    }
    for (int i = 0; i < hall->n_shade; i++) {
        if (i == 0) put(out, "  shades:\n");
        put(out, "    - {name: ");
        put_name(out, hall->shade[i].name);
        put(out, ", closed: ");
        put_number(out, w->shades_closed, 3);
        put(out, "}\n");
    }
    for (int i = 0; i < hall->n_panel && w->has_vomitories; i++) {
        if (i == 0) put(out, "  panels:\n");
        put(out, "    - {name: ");
        put_name(out, hall->panel[i].name);
        put(out, ", open: yes}\n");
    }
}

static void put_focus(writer *out) {
    put(out, "focus:\n  - {name: stage, polygon: ");
    put_box(out, out->job->focus_box);
    put(out, ", z: ");
    put_length(out, out->job->focus_z_m);
    put(out, "}\n");
}

static void put_block_head(writer *out, const char *name, const char *on, double width_m,
                           double depth_m) {
    put(out, "  - name: %s\n    stands_on: %s\n", name, on);
    if (out->job->w->seating) {
        put(out, "    seating: ");
        put_name(out, out->job->w->seating);
        put(out, "\n");
    }
    put(out, "    seat_width: ");
    put_length(out, width_m);
    put(out, "\n    row_depth: ");
    put_length(out, depth_m);
    put(out, "\n");
}

static void put_bank(writer *out, const draft_bank *bank) {
    draft_cells first = rank_cells(bank, bank->is_front), last = rank_cells(bank, bank->n_rank - 1);
    draft_cells c = {
        first.c0 < last.c0 ? first.c0 : last.c0, first.c1 > last.c1 ? first.c1 : last.c1,
        first.r0 < last.r0 ? first.r0 : last.r0, first.r1 > last.r1 ? first.r1 : last.r1};
    double tread_m = bank->rank_m / bank->n_step, depth_m = out->job->w->row_depth_m;
    put_block_head(out, bank->name, "lifts", bank->seat_m,
                   2.0 * depth_m > tread_m ? depth_m : tread_m); /* one row per tread */
    put(out, "    fill: {");
    put_cells(out, out->job->main, c);
    if (bank->n_step == 1) put(out, ", facing_deg: %d", 90 * bank->quarter);
    put(out, "}\n");
}

static void put_floor(writer *out, const draft_floor *f) {
    put_block_head(out, "Chairs", "floor", out->job->w->seat_width_m, out->job->w->row_depth_m);
    if (f->is_curved) {
        put(out, "    curved: {centre: ");
        put_point(out, f->front_m);
        put(out, ", radius: ");
        put_length(out, f->radius_m);
        put(out, ", from_deg: ");
        put_number(out, f->arc_deg[0], 3);
        put(out, ", to_deg: ");
        put_number(out, f->arc_deg[1], 3);
        put(out, ", rows: %d, stagger: 0.5}\n", f->n_row);
        return;
    }
    put(out, "    straight: {front: ");
    put_point(out, f->front_m);
    put(out, ", facing_deg: ");
    put_number(out, f->facing_deg, 3);
    put(out, ", rows: %d, seats: %d, stagger: 0.5}\n", f->n_row, f->n_across);
}

/* A pattern repeats along a row, so that of two places serves any row. */
static void put_wheelchair_row(writer *out, const draft_wheelchair_row *s, int number) {
    char name[32];
    snprintf(name, sizeof name, "Places %d", number);
    put_block_head(out, name, "floor", DRAFT_PLACE_WIDTH_M, DRAFT_PLACE_DEPTH_M);
    put(out, "    pattern: [%s]\n",
        s->starts_with_companion ? "companion, wheelchair" : "wheelchair, companion");
    put(out, "    straight: {front: ");
    put_point(out, s->front_m);
    put(out, ", facing_deg: ");
    put_number(out, s->facing_deg, 3);
    put(out, ", rows: 1, seats: %d}\n", s->n_place);
}

static void put_blocks(writer *out, const draft_scheme *scheme) {
    put(out, "blocks:\n");
    for (int i = 0; i < scheme->n_bank; i++) put_bank(out, &scheme->bank[i]);
    if (scheme->floor.n_seat > 0) put_floor(out, &scheme->floor);
    for (int i = 0; i < scheme->n_wheelchair_row; i++)
        put_wheelchair_row(out, &scheme->wheelchair_row[i], i + 1);
}

static gradin_box2 aisle_box(const draft_job *job, const draft_bank *bank, int aisle) {
    gradin_box2 box = draft_rank_box(job, bank, bank->is_front);
    gradin_box2 last = draft_rank_box(job, bank, bank->n_rank - 1);
    const double *side_m = bank->aisle_m[aisle];
    gradin_box2 all = {fmin(box.x_min_m, last.x_min_m), fmin(box.y_min_m, last.y_min_m),
                       fmax(box.x_max_m, last.x_max_m), fmax(box.y_max_m, last.y_max_m)};
    if (bank->quarter % 2 == 0)
        return (gradin_box2){all.x_min_m + side_m[0], all.y_min_m, all.x_min_m + side_m[1],
                             all.y_max_m};
    return (gradin_box2){all.x_min_m, all.y_min_m + side_m[0], all.x_max_m,
                         all.y_min_m + side_m[1]};
}

static void put_aisles(writer *out, const draft_scheme *scheme) {
    put(out, "aisles:\n");
    for (int i = 0; i < scheme->n_bank; i++)
        for (int k = 0; k < scheme->bank[i].n_aisle; k++) {
            put(out, "  - {name: %s aisle %d, polygon: ", scheme->bank[i].name, k + 1);
            put_box(out, aisle_box(out->job, &scheme->bank[i], k));
            put(out, "}\n");
        }
    for (int k = 0; k < scheme->floor.n_aisle; k++) {
        put(out, "  - {name: aisle %d, polygon: ", k + 1);
        put_points(out, scheme->floor.aisle_m[k], 4);
        put(out, "}\n");
    }
}

static void put_rails(writer *out, const draft_rail *rail, int n_rail) {
    double height_m = fmax(DRAFT_RAIL_M, out->job->hall->rail_min_m);
    if (n_rail == 0) return;
    put(out,
        "# at every edge with a drop over the venue's own guard_drop, but the stage's\nrails:\n");
    for (int i = 0; i < n_rail; i++) {
        put(out, "  - {name: ");
        put_quoted(out, rail[i].name);
        put(out, ", kind: bar, path: ");
        put_points(out, rail[i].point_m, rail[i].n_point);
        put(out, ", height: ");
        put_length(out, height_m);
        put(out, ", thickness: ");
        put_length(out, 0.04);
        put(out, ", bars: 3}\n");
    }
}

char *draft_write(const draft_job *job, const draft_scheme *scheme, const draft_rail *rail,
                  int n_rail) {
    writer out = {.job = job};
    put_head(&out);
    put_machines(&out, scheme);
    put_focus(&out);
    put_blocks(&out, scheme);
    put_aisles(&out, scheme);
    put_rails(&out, rail, n_rail);
    return out.failed ? NULL : out.bytes;
}
