/* Keys that a search must leave alone: the hall's own rules, and of rails all but a height that is
 * above nothing. Heights below the hall's rule are refused where a layout is read. */
#include "studies/seek/seek.h"

#include <string.h>

static gradin_status refuse(gradin_error *error, const gradin_varied *v, const char *path,
                            const char *why) {
    return gradin_error_add(error, GRADIN_BAD_INPUT, v->at, "%s: %s", path, why);
}

/* Without what stands in brackets: names are the user's. */
static void strip(const char *path, char *out, size_t size) {
    size_t n = 0;
    int depth = 0;
    for (; *path && n + 1 < size; path++) {
        depth += *path == '[';
        if (depth == 0) out[n++] = *path;
        depth -= *path == ']';
    }
    out[n] = '\0';
}

static bool ends_in(const char *path, const char *key) {
    size_t n = strlen(path), m = strlen(key);
    return n >= m && strcmp(path + n - m, key) == 0 && (n == m || path[n - m - 1] == '.');
}

/* "rails", ".rail." or a parapet. */
static bool is_of_rail(const char *plain) {
    return strncmp(plain, "rails", 5) == 0 || strstr(plain, ".rails") || strstr(plain, ".rail.") ||
           ends_in(plain, "parapet");
}

static bool takes_away(const gradin_varied *v) {
    double value;
    if (v->n_value == 0) return v->from <= 0.0;
    for (int i = 0; i < v->n_value; i++)
        if (!gradin_parse_number(v->value[i], &value) || value <= 0.0) return true;
    return false;
}

static gradin_status check_path(const gradin_varied *v, const char *path, const gradin_model *model,
                                gradin_error *error) {
    char plain[GRADIN_KEY_CHARS];
    strip(path, plain, sizeof plain);
    if (v->file == GRADIN_VARIED_VENUE && strncmp(plain, "room.local_rules", 16) == 0)
        return refuse(error, v, path, "a search does not move the hall's own rules");
    if (v->file == GRADIN_VARIED_VENUE && strncmp(plain, "machines.interlocks", 19) == 0)
        return refuse(error, v, path, "a search does not move interlocks");
    if (!is_of_rail(plain)) return GRADIN_OK;
    if (!ends_in(plain, "height") && !ends_in(plain, "parapet"))
        return refuse(error, v, path,
                      "of a rail a search moves the height alone; the rest is for the local code");
    if (!(model->rail_min_m > 0.0))
        return refuse(error, v, path,
                      "moves a rail, and the venue states no lowest one "
                      "(room.local_rules.rail_min); the local code has it");
    if (takes_away(v)) return refuse(error, v, path, "takes the rail away where it is 0");
    return GRADIN_OK;
}

gradin_status seek_check_keys(const gradin_study *study, const gradin_model *model,
                              gradin_error *error) {
    gradin_status status = GRADIN_OK;
    for (int k = 0; k < study->n_varied; k++)
        for (int i = 0; i < study->varied[k].n_path && status == GRADIN_OK; i++)
            status = check_path(&study->varied[k], study->varied[k].path[i], model, error);
    return status;
}
