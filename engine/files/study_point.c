/* The files of a study with the values of one point in them. */
#include "base/use.h"
#include "files/read_changed.h"
#include "files/traffic/traffic.h"
#include "gradin/files.h"

static const char *const format_of[GRADIN_N_VARIED_FILE] = {"gradin-venue-1", "gradin-layout-1",
                                                            "gradin-traffic-1", "gradin-brief-1",
                                                            "gradin-overflight-1"};

static bool add_changes(complaints *c, const gradin_study *s, int point, int key,
                        value_changes *made) {
    const gradin_varied *v = &s->varied[key];
    char *value = alloc(c, GRADIN_VALUE_CHARS, 1);
    if (!value || !gradin_study_value(s, point, key, value)) return false;
    for (int i = 0; i < v->n_path; i++)
        made->change[made->n++] = (value_change){
            .format = format_of[v->file], .path = v->path[i], .value = value, .at = v->at};
    return true;
}

/* Of all keys, or of the venue's alone. */
static bool list_changes(complaints *c, const gradin_study *s, int point, bool is_venue_alone,
                         value_changes *made) {
    int n = 0;
    *made = (value_changes){.n = 0};
    for (int k = 0; k < s->n_varied; k++) n += s->varied[k].n_path;
    made->change = alloc(c, n, sizeof *made->change);
    bool good = made->change != NULL;
    for (int k = 0; k < s->n_varied && good && point >= 0; k++)
        if (!is_venue_alone || s->varied[k].file == GRADIN_VARIED_VENUE)
            good = add_changes(c, s, point, k, made);
    return good;
}

/* A key of a file that nothing names would be varied in vain. */
static void check_done(complaints *c, const value_changes *made, gradin_study_inputs *inputs) {
    for (int i = 0; i < made->n && !made->has_failed && c->n_error == 0; i++) {
        if (made->change[i].n_done > 0) continue;
        inputs->is_study_wrong = true;
        refuse(c, made->change[i].at, "%s: no file of the format %s is read", made->change[i].path,
               made->change[i].format);
    }
}

static gradin_status read_all(gradin_arena *arena, const gradin_study *s, value_changes *all,
                              value_changes *venue, gradin_study_inputs *inputs,
                              gradin_error *error) {
    gradin_status status = model_read_changed(arena, s->layout_path, all, &inputs->model, error);
    if (status == GRADIN_OK && s->brief_path)
        status = brief_read_changed(arena, s->brief_path, all, &inputs->model, error);
    inputs->has_partner = status == GRADIN_OK && s->partner_path;
    if (inputs->has_partner)
        status = model_read_changed(arena, s->partner_path, venue, &inputs->partner, error);
    inputs->has_traffic = status == GRADIN_OK && s->traffic_path;
    if (inputs->has_traffic)
        status =
            traffic_read_changed(arena, s->traffic_path, false, all, &inputs->traffic, NULL, error);
    return status;
}

gradin_status gradin_study_point_read(gradin_arena *arena, const gradin_study *study, int point,
                                      gradin_study_inputs *inputs, gradin_error *error) {
    if (NEEDS(error, arena, study, inputs) != GRADIN_OK ||
        NEEDS(error, study->layout_path, study->varied) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (point < -1 || point >= gradin_study_points(study))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "the study has no point %d", point);
    complaints c = {.arena = arena, .error = error};
    value_changes all, venue;
    *inputs = (gradin_study_inputs){.has_partner = false};
    if (!list_changes(&c, study, point, false, &all) ||
        !list_changes(&c, study, point, true, &venue))
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    gradin_status status = read_all(arena, study, &all, &venue, inputs, error);
    if (status == GRADIN_OK) check_done(&c, &all, inputs);
    inputs->is_study_wrong = inputs->is_study_wrong || all.has_failed || venue.has_failed;
    return status == GRADIN_OK ? complaints_status(&c) : status;
}
