/* A layout as a scene. */
#include "base/use.h"
#include "gradin/render.h"
#include "render/export/glb.h"
#include "render/maps/quantity.h"
#include "studies/shared/complete.h"

static const char *extras_of(gradin_arena *arena, const quantity *q) {
    char heading[200];
    quantity_heading(q, heading, sizeof heading);
    const char *layout = glb_quoted(arena, q->model->layout_name);
    const char *venue = glb_quoted(arena, q->model->venue_name);
    const char *figure = glb_quoted(arena, heading);
    if (!layout || !venue || !figure) return NULL;
    return gradin_arena_print(arena,
                              "\"layout\":%s,\"venue\":%s,\"input_digest\":\"%s\",\"figure\":%s,"
                              "\"caution\":\"Predicted, not measured. Rails, guards, egress, loads "
                              "and moving machinery: local code and a licensed professional "
                              "decide.\"",
                              layout, venue, q->model->digest, figure);
}

gradin_status gradin_hall_glb(gradin_arena *arena, const gradin_assessment *assessment,
                              gradin_map figure, gradin_map_scale scale, unsigned char **bytes,
                              size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK ||
        assessment_tables_complete(assessment, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (!gradin_map_applies(assessment, figure))
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                "--figure: this layout has no figures of %s",
                                gradin_map_name(figure));
    quantity q = quantity_of(assessment, figure, scale);
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a scene");
    glb_scene scene = {.arena = scratch, .all = {.arena = scratch}};
    const char *extras = extras_of(scratch, &q);
    glb_add_hall(&scene, &q, assessment);
    gradin_status status =
        extras ? glb_encode(arena, &scene, extras, bytes, size, error)
               : gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a scene");
    gradin_arena_destroy(scratch);
    return status;
}
