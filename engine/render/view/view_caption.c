/* What is said of a view: the figures are those of the table of seats. */
#include "base/lengths.h"
#include "base/shared/plain.h"
#include "render/view/view_paint.h"

#include <stdio.h>
#include <string.h>

static void add(char *text, size_t size, const char *format, double share, const char *name) {
    size_t n = strlen(text);
    if (n < size) plain_print(text + n, size - n, format, 100.0 * share, name);
}

void view_causes_text(const gradin_view *v, char *text, size_t size) {
    static const char *const word[GRADIN_N_CAUSE] = {"heads", "rails", "structure", "the arch"};
    const char *before = "Hidden by ";
    text[0] = '\0';
    for (int k = 0; k < GRADIN_N_CAUSE; k++) {
        if (!(v->hidden[k] > 0.0)) continue;
        size_t n = strlen(text);
        plain_print(text + n, size - n, "%s%s %.1f %%", before, word[k], 100.0 * v->hidden[k]);
        before = ", ";
    }
    if (text[0] == '\0') snprintf(text, size, "Nothing of the focus is hidden");
    if (v->worst_occluder >= 0)
        add(text, size, "; most, %.1f %%, by %.80s", v->worst_hidden,
            v->model->occluder_name[v->worst_occluder]);
}

void view_place_text(const gradin_view *v, char *text, size_t size) {
    char up[LENGTH_CHARS], away[LENGTH_CHARS], high[LENGTH_CHARS], turn[80] = "";
    length_unit unit = length_unit_of(v->model->units);
    double floor_m = v->model->seats.floor_m[v->seat].z;
    if (fabs(v->turn_deg) >= 0.5)
        plain_print(turn, sizeof turn, ", %.0f\xC2\xB0 to the %s of the seat's facing",
                    fabs(v->turn_deg), v->turn_deg > 0.0 ? "right" : "left");
    plain_print(
        text, size,
        "Eye %.30s above its floor, at %.30s \xC2\xB7 the middle of the focus is %.30s away, "
        "%.0f\xC2\xB0 %s%s \xC2\xB7 %s, %.0f\xC2\xB0 across",
        length_text(up, v->eye_m.z - floor_m, unit), length_text(high, v->eye_m.z, unit),
        length_text(away, v->distance_m, unit), fabs(v->down_deg),
        v->down_deg >= 0.0 ? "down" : "up", turn, v->is_panorama ? "panorama" : "field of view",
        v->fov_deg);
}

void view_brief_text(const gradin_view *v, char *text, size_t size) {
    char up[LENGTH_CHARS], away[LENGTH_CHARS], outside[80] = "";
    length_unit unit = length_unit_of(v->model->units);
    if (v->in_picture < 0.995)
        plain_print(outside, sizeof outside, " \xC2\xB7 %.0f %% of it outside",
                    100.0 * (1.0 - v->in_picture));
    plain_print(text, size, "eye at %.30s \xC2\xB7 focus %.30s away, %.0f\xC2\xB0 %s%s",
                length_text(up, v->eye_m.z, unit), length_text(away, v->distance_m, unit),
                fabs(v->down_deg), v->down_deg >= 0.0 ? "down" : "up", outside);
}

static bool has_veil(const gradin_model *m) {
    for (int a = 0; a < m->n_focus; a++)
        if (m->focus[a].kind == GRADIN_FOCUS_UPRIGHT ||
            (m->focus[a].kind == GRADIN_FOCUS_FLOOR &&
             m->focus[a].over_floor_m > GRADIN_FOCUS_OVER_M))
            return true;
    return false;
}

void view_size_text(const gradin_view *v, char *text, size_t size) {
    char figure[LENGTH_CHARS], square[LENGTH_CHARS];
    length_unit unit = length_unit_of(v->model->units);
    plain_print(text, size, "figures of %.30s and squares of %.30s show the size%s",
                length_text(figure, GRADIN_VIEW_FIGURE_M, unit),
                length_text(square, GRADIN_VIEW_SQUARE_M, unit),
                has_veil(v->model) ? " \xC2\xB7 veil: focus in the air" : "");
}

void view_outside_text(const gradin_view *v, char *text, size_t size) {
    text[0] = '\0';
    if (v->in_picture < 0.995)
        plain_print(text, size, "%.0f %% of the focus lies outside the picture. ",
                    100.0 * (1.0 - v->in_picture));
}

static gradin_status lacks(gradin_error *error, const char *what) {
    return gradin_error_add(error, GRADIN_BAD_USE, NULL, "the view has no %s", what);
}

gradin_status view_check(const gradin_view *v, gradin_error *error) {
    if (!v) return lacks(error, "data");
    if (!v->model || !v->model->seats.id || !v->model->layout_name || !v->model->venue_name)
        return lacks(error, "model");
    if (!v->sample || !v->square_origin_m || !v->square_along) return lacks(error, "samples");
    if (v->n_fine > 0 && (!v->fine || !v->fine_pixel)) return lacks(error, "fine samples");
    return GRADIN_OK;
}
