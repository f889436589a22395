/* Which stages depend on which key: the one table of it.
 *
 * A key that stands here leaves every stage that is not named with it as it was. A key that does
 * not stand here works everything out anew: a key left out costs time, a stage left out would make
 * a figure wrong, so tests/cli/test_sweep.py holds every figure against runs from scratch. Every
 * point is read and checked whole, whatever varies, so a refusal needs no row. What the room itself
 * depends on is found by its content (acoustics/transfer/keep.c); its stage here only puts points
 * with the same room one after the other. So are glass (acoustics/envelope/keep_glass.c) and what
 * events send onto the facade (acoustics/event/keep_incidence.c): within a stage that is worked out
 * anew they are taken from earlier points. */
#include "base/digest.h"
#include "studies/sweep/sweep.h"

#include <string.h>

#define S(stage) (1U << GRADIN_STAGE_##stage)

enum { ALL = (1 << GRADIN_N_STAGE) - 1 };

typedef struct dependency {
    gradin_varied_file file;
    const char *key; /* path without its entries; what stands below it goes with it */
    unsigned stages;
} dependency;

#define HEARD (S(PASS) | S(SEASON))

static const dependency table[] = {
    /* What the envelope lets in. */
    {GRADIN_VARIED_VENUE, "facade.buildups", HEARD | S(GLASS)},
    {GRADIN_VARIED_VENUE, "facade.temperature_c", HEARD},
    {GRADIN_VARIED_VENUE, "facade.ground", HEARD},
    {GRADIN_VARIED_VENUE, "facade.glazing.buildup", HEARD | S(GLASS)},
    {GRADIN_VARIED_VENUE, "facade.glazing.joint_r_db", HEARD},
    {GRADIN_VARIED_VENUE, "facade.doors.buildup", HEARD},
    {GRADIN_VARIED_VENUE, "facade.doors.joint_r_db", HEARD},
    {GRADIN_VARIED_VENUE, "facade.vents.dn_e_db", HEARD},
    {GRADIN_VARIED_VENUE, "facade.walls.buildup", HEARD},
    {GRADIN_VARIED_VENUE, "facade.roofs.buildup", HEARD},
    {GRADIN_VARIED_VENUE, "facade.shades.insertion_loss_db", HEARD},
    {GRADIN_VARIED_VENUE, "facade.shades.layers", HEARD},
    {GRADIN_VARIED_VENUE, "facade.shades.absorption", HEARD | S(ROOM)},
    {GRADIN_VARIED_VENUE, "facade.shades.close_s", S(CHANGEOVER)},
    {GRADIN_VARIED_VENUE, "facade.shades.drive", S(CHANGEOVER)},
    {GRADIN_VARIED_VENUE, "room.absorption", HEARD | S(ROOM)},
    /* Who changes it over, and how quickly. */
    {GRADIN_VARIED_VENUE, "machines.crew", S(CHANGEOVER)},
    {GRADIN_VARIED_VENUE, "machines.lifts.speed_ms", S(CHANGEOVER)},
    {GRADIN_VARIED_VENUE, "machines.lifts.drive", S(CHANGEOVER)},
    {GRADIN_VARIED_VENUE, "machines.towers.hoist_speed_ms", S(CHANGEOVER)},
    {GRADIN_VARIED_VENUE, "machines.towers.drive", S(CHANGEOVER)},
    {GRADIN_VARIED_VENUE, "machines.arch.speed_ms", S(CHANGEOVER)},
    {GRADIN_VARIED_VENUE, "machines.arch.drive", S(CHANGEOVER)},
    /* The layout's own. */
    {GRADIN_VARIED_LAYOUT, "machines.shades", HEARD | S(ROOM) | S(CHANGEOVER)},
    {GRADIN_VARIED_LAYOUT, "overflight", HEARD},
    {GRADIN_VARIED_LAYOUT, "room_method", HEARD | S(ROOM)},
    {GRADIN_VARIED_LAYOUT, "room_diffuse_anyway", HEARD | S(ROOM)},
    {GRADIN_VARIED_LAYOUT, "room_patch", HEARD | S(ROOM)},
    {GRADIN_VARIED_LAYOUT, "brief", HEARD | S(SIGHT)}, /* not the rays */
    /* What counts, what flies. */
    {GRADIN_VARIED_BRIEF, "", HEARD | S(SIGHT)},
    {GRADIN_VARIED_TRAFFIC, "", S(SEASON)},
    {GRADIN_VARIED_OVERFLIGHT, "", S(PASS)}};

/* "a[b].c" without its entries: "a.c". */
static void strip(const char *path, char *out, size_t size) {
    size_t n = 0;
    for (bool is_entry = false; *path && n + 1 < size; path++) {
        is_entry = (is_entry || *path == '[') && !(is_entry && path[-1] == ']');
        if (!is_entry) out[n++] = *path;
    }
    out[n] = '\0';
}

static bool is_below(const char *path, const char *key) {
    size_t n = strlen(key);
    return n == 0 || (strncmp(path, key, n) == 0 && (path[n] == '\0' || path[n] == '.'));
}

static unsigned stages_of(gradin_varied_file file, const char *path) {
    char plain[GRADIN_KEY_CHARS];
    strip(path, plain, sizeof plain);
    for (size_t i = 0; i < sizeof table / sizeof *table; i++)
        if (table[i].file == file && is_below(plain, table[i].key)) return table[i].stages;
    return ALL;
}

unsigned gradin_sweep_depends(const gradin_varied *varied) {
    unsigned stages = 0;
    if (!varied || !varied->path) return ALL;
    for (int i = 0; i < varied->n_path; i++) stages |= stages_of(varied->file, varied->path[i]);
    return stages;
}

bool sweep_key(const gradin_study *s, int point, gradin_stage stage, char key[33]) {
    char value[GRADIN_VALUE_CHARS];
    bool is_shared = false;
    key[0] = '\0';
    if (point < 0) return false;
    gradin_digest_fold(key, &stage, sizeof stage);
    for (int k = 0; k < s->n_varied; k++) {
        if (!(gradin_sweep_depends(&s->varied[k]) & (1U << stage))) {
            is_shared = true;
            continue;
        }
        gradin_study_value(s, point, k, value);
        gradin_digest_fold(key, value, strlen(value) + 1);
    }
    return is_shared;
}
