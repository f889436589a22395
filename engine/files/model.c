/* The model's entry points: read, check, build. */
#include "files/wishes.h"
#include "gradin/traffic.h"
#include "model/build.h"

#include <string.h>

/* A focus without a height lies on the surface below it, which must be one level. */
bool build_focus(builder *b) {
    for (int i = 0; i < b->p->n_focus; i++) {
        gradin_focus *f = &b->p->focus[i];
        gradin_vec2 middle_m = gradin_polygon_centroid_m(f->polygon);
        for (int k = 0; k < f->polygon.n_corner; k++)
            if (!gradin_polygon_contains(b->v->footprint, f->polygon.corner_m[k])) {
                complain(b->r, b->p->focus_at[i], "focus %s lies outside the room's footprint",
                         f->name);
                break;
            }
        if (!isnan(f->z_m)) continue;
        f->z_m = surface_m(b->v, b->p, middle_m, NULL);
        for (int k = 0; k < f->polygon.n_corner; k++) {
            gradin_vec2 corner_m = f->polygon.corner_m[k];
            /* just inside, so that a corner on a section's edge counts to its own side */
            corner_m.x += (middle_m.x - corner_m.x) * 0.01;
            corner_m.y += (middle_m.y - corner_m.y) * 0.01;
            if (fabs(surface_m(b->v, b->p, corner_m, NULL) - f->z_m) < 0.005) continue;
            complain(b->r, b->p->focus_at[i],
                     "focus %s lies over surfaces of several heights; give z", f->name);
            break;
        }
    }
    b->model->focus = b->p->focus;
    b->model->n_focus = b->p->n_focus;
    return true;
}

static bool build_drawn(builder *b) {
    const venue *v = b->v;
    gradin_section *section = take(b->r, v->n_section, sizeof *section);
    gradin_area *vomitory = take(b->r, v->n_panel, sizeof *vomitory);
    double *top_deg = take(b->r, v->n_panel, sizeof *top_deg);
    if (!section || !vomitory || !top_deg) return false;
    for (int i = 0; i < v->n_section; i++) {
        const section_state *state = &b->p->section[i];
        gradin_box2 box = v->section[i].box;
        const lift_grid *grid = &v->grid[v->section[i].grid];
        section[i] = (gradin_section){.name = v->section[i].name,
                                      .corner_m = {{box.x_min_m, box.y_min_m},
                                                   {box.x_max_m, box.y_min_m},
                                                   {box.x_max_m, box.y_max_m},
                                                   {box.x_min_m, box.y_max_m}},
                                      .height_m = state->height_m,
                                      .n_step = state->n_step,
                                      .riser_m = state->riser_m,
                                      .facing_deg = state->facing_deg,
                                      .travel_m = {grid->travel_m[0], grid->travel_m[1]},
                                      .riser_limit_m = {grid->riser_m[0], grid->riser_m[1]},
                                      .most_steps = grid->most_steps,
                                      .speed_ms = grid->speed_ms};
        memcpy(section[i].faces, grid->faces, sizeof section[i].faces);
    }
    for (int i = 0; i < v->n_panel; i++) {
        if (!b->p->panel_open[i]) continue;
        top_deg[b->model->n_vomitory] = v->panel_top_deg[i];
        vomitory[b->model->n_vomitory++] = v->panel[i];
    }
    b->model->section = section;
    b->model->n_section = v->n_section;
    b->model->vomitory = vomitory;
    b->model->vomitory_top_deg = top_deg;
    b->model->aisle = b->p->aisle;
    b->model->n_aisle = b->p->n_aisle;
    return true;
}

static void copy_head(builder *b) {
    gradin_model *m = b->model;
    m->venue_name = b->v->name;
    m->layout_name = b->p->name;
    m->form = b->p->form;
    m->footprint = b->v->footprint;
    m->ceiling_m = b->v->ceiling_m;
    m->audience = b->p->audience;
    m->axis_deg = b->p->axis_deg;
    m->pass = b->p->pass;
    m->room_method = (gradin_room_method)b->p->room_method;
    m->room_patch_m = b->p->room_patch_m;
    m->limits = b->p->limits;
    m->criterion = b->p->criterion;
    m->rail_min_m = b->v->rail_min_m;
    m->units = b->r->unit_name;
}

static void build_model(builder *b) {
    copy_head(b);
    if (!build_focus(b) || !build_decks(b) || !build_obstacles(b)) return;
    check_machines(b);
    if (!build_places(b) || b->r->n_error > 0) return;
    check_places(b);
    if (b->r->n_error > 0 || !build_seats(b)) return;
    build_solid_sheets(b);
    if (!build_occluders(b) || !build_facade(b) || !build_machinery(b) || !build_divide(b)) return;
    build_drawn(b);
}

gradin_status gradin_model_read(gradin_arena *arena, const char *layout_path, gradin_model *model,
                                gradin_error *error) {
    return gradin_model_read_text(arena, layout_path, NULL, model, error);
}

gradin_status gradin_model_read_text(gradin_arena *arena, const char *layout_path, const char *text,
                                     gradin_model *model, gradin_error *error) {
    if (!arena || !layout_path || !model) return GRADIN_BAD_USE;
    venue v = {0};
    plan p = {0};
    memset(model, 0, sizeof *model);
    const char *file = gradin_arena_copy_text(arena, layout_path);
    reader r = {.arena = arena,
                .error = error,
                .unit_m = 1.0,
                .digest = model->digest,
                .given_path = file,
                .given = text};
    if (!file) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    if (plan_read(&r, file, &v, &p)) {
        builder b = {.r = &r, .v = &v, .p = &p, .model = model};
        build_model(&b);
    }
    model->note = r.note;
    model->n_note = r.n_note;
    return reader_status(&r);
}

gradin_status gradin_brief_read(gradin_arena *arena, const char *brief_path, gradin_model *model,
                                gradin_error *error) {
    if (!arena || !brief_path || !model) return GRADIN_BAD_USE;
    reader r = {.arena = arena, .error = error, .unit_m = 1.0, .digest = model->digest};
    const char *file = gradin_arena_copy_text(arena, brief_path);
    if (!file) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    brief_defaults(&model->limits, &model->criterion);
    brief_read_file(&r, file, &model->limits, &model->criterion);
    return reader_status(&r);
}

/* ---- checking any file
 * --------------------------------------------------------------------------------------- */

typedef enum file_kind {
    FILE_VENUE,
    FILE_LAYOUT,
    FILE_OVERFLIGHT,
    FILE_BRIEF,
    FILE_TRAFFIC,
    FILE_WISHES,
    N_FILE_KIND
} file_kind;

static const char *const format_of[N_FILE_KIND] = {"gradin-venue-1",      "gradin-layout-1",
                                                   "gradin-overflight-1", "gradin-brief-1",
                                                   "gradin-traffic-1",    "gradin-wishes-1"};
static const char *const kind_of_file[N_FILE_KIND] = {"venue", "layout",  "overflight",
                                                      "brief", "traffic", "wishes"};

static int find_kind(reader *r, const node *root) {
    const node *format = root->kind == NODE_MAP ? map_get(root, "format") : NULL;
    if (!format || format->kind != NODE_TEXT) {
        complain_key(r, root, "format",
                     "is missing; gradin-venue-1, gradin-layout-1, gradin-overflight-1, "
                     "gradin-brief-1, gradin-traffic-1 or gradin-wishes-1");
        return -1;
    }
    for (int k = 0; k < N_FILE_KIND; k++)
        if (strcmp(format->text, format_of[k]) == 0) return k;
    complain_unknown(r, format, "format", format->text, format_of, N_FILE_KIND);
    return -1;
}

static void check_kind(reader *r, gradin_arena *arena, int kind, const char *path) {
    gradin_limits limits;
    gradin_criterion criterion;
    gradin_pass pass;
    gradin_traffic traffic;
    gradin_model model;
    gradin_wishes wishes;
    venue v = {0};
    gradin_status status = GRADIN_OK;
    switch (kind) {
    case FILE_VENUE:
        venue_read(r, path, &v);
        return;
    case FILE_OVERFLIGHT:
        pass_read(r, path, &pass);
        return;
    case FILE_BRIEF:
        brief_read_file(r, path, &limits, &criterion);
        return;
    case FILE_WISHES:
        wishes_read(r, path, &wishes);
        return;
    case FILE_TRAFFIC:
        status = gradin_traffic_read(arena, path, false, &traffic, NULL, r->error);
        break;
    default:
        status = gradin_model_read(arena, path, &model, r->error);
    }
    if (status == GRADIN_BAD_INPUT) r->n_error++;
    if (status != GRADIN_OK && status != GRADIN_BAD_INPUT) r->failed = status;
}

gradin_status gradin_file_check(const char *path, const char **kind, gradin_error *error) {
    gradin_arena *arena = gradin_arena_create();
    if (!arena) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    reader r = {.arena = arena, .error = error, .unit_m = 1.0};
    const node *root = node_read(&r, path);
    int found = root ? find_kind(&r, root) : -1;
    if (kind) *kind = found >= 0 ? kind_of_file[found] : "file";
    if (found >= 0) check_kind(&r, arena, found, path);
    gradin_status status = reader_status(&r);
    gradin_arena_destroy(arena);
    return status;
}
