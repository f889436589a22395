/* Lists of numbers and points. */
#include "files/schema/values.h"

#include <string.h>

enum { N_OCTAVE_GIVEN = 6, MOST_POINTS = 1000 };

bool value_count(reader *r, const node *list, const schema_key *key) {
    if (!value_is_kind(r, list, NODE_LIST)) return false;
    int n = list->n_child;
    const char *noun = key->noun ? key->noun : "values";
    if (n >= key->n_least && (key->n_most == 0 || n <= key->n_most)) return true;
    if (key->n_least == key->n_most)
        complain(r, list, "has %d %s; %d are needed", n, noun, key->n_least);
    else
        complain(r, list, "has %d %s; %d to %d are allowed", n, noun, key->n_least, key->n_most);
    return false;
}

bool value_numbers(reader *r, const node *list, const schema_key *key, double *out) {
    if (!value_count(r, list, key)) return false;
    bool good = true;
    for (int i = 0; i < list->n_child; i++) good &= value_number(r, list->child[i], key, &out[i]);
    return good;
}

bool value_range(reader *r, const node *at, const schema_key *key, double *out) {
    schema_key pair = *key;
    pair.n_least = pair.n_most = 2;
    pair.noun = NULL;
    if (!value_numbers(r, at, &pair, out)) return false;
    if (out[0] <= out[1]) return true;
    complain(r, at, "runs from more to less; write [least, most]");
    return false;
}

void octaves_to_thirds(const double octave[6], double band[GRADIN_N_BAND]) {
    /* Thirds 50, 63, 80 belong to the 63 Hz octave, which absorption tables do not give. */
    for (int b = 0; b < GRADIN_N_BAND; b++) band[b] = octave[b < 3 ? 0 : b / 3 - 1];
}

/* False when so many values are no spectrum. */
static bool spread_bands(const double *value, int n, bool takes_rated, double out[GRADIN_N_BAND]) {
    if (n == N_OCTAVE_GIVEN) {
        octaves_to_thirds(value, out);
    } else if (n == GRADIN_N_BAND) {
        memcpy(out, value, GRADIN_N_BAND * sizeof *out);
    } else if (takes_rated && n == GRADIN_N_RATED_BAND) {
        for (int b = 0; b < GRADIN_N_BAND; b++) out[b] = NAN;
        memcpy(out + GRADIN_BAND_100_HZ, value, GRADIN_N_RATED_BAND * sizeof *out);
    } else {
        return false;
    }
    return true;
}

bool value_spectrum(reader *r, const node *at, const schema_key *key, double *out) {
    double value[GRADIN_N_BAND];
    schema_key bands = *key;
    bands.n_least = N_OCTAVE_GIVEN;
    bands.n_most = GRADIN_N_BAND;
    bands.noun = NULL;
    if (!value_numbers(r, at, &bands, value)) return false;
    if (spread_bands(value, at->n_child, key->takes_rated, out)) return true;
    complain(r, at, "has %d values; %s are needed", at->n_child,
             key->takes_rated ? SPECTRUM_RATED_TEXT : SPECTRUM_TEXT);
    return false;
}

/* Nothing in a hall's plan lies farther from its origin. */
static const double FAR_M = 1e5;

bool value_point(reader *r, const node *at, const schema_key *key, gradin_vec2 *out) {
    schema_key pair = *key;
    double xy[2];
    pair.n_least = pair.n_most = 2;
    pair.noun = NULL;
    if (key->least == 0.0 && key->most == 0.0) {
        pair.least = -FAR_M;
        pair.most = FAR_M;
    }
    if (!value_numbers(r, at, &pair, xy)) return false;
    *out = (gradin_vec2){xy[0], xy[1]};
    return true;
}

bool value_points(reader *r, const node *list, const schema_key *key, gradin_vec2 **point,
                  int *n_point) {
    schema_key many = *key;
    if (many.n_most == 0) many.n_most = MOST_POINTS;
    if (!many.noun) many.noun = "points";
    if (!value_count(r, list, &many)) return false;
    gradin_vec2 *made = alloc(&r->c, list->n_child, sizeof *made);
    if (!made) return false;
    bool good = true;
    for (int i = 0; i < list->n_child; i++) good &= value_point(r, list->child[i], key, &made[i]);
    *point = made;
    *n_point = list->n_child;
    return good;
}

bool value_polygon(reader *r, const node *at, const schema_key *key, gradin_polygon *out) {
    schema_key corners = *key;
    gradin_vec2 *corner_m;
    int n_corner;
    corners.n_least = 3;
    if (!value_points(r, at, &corners, &corner_m, &n_corner)) return false;
    gradin_polygon polygon = {corner_m, n_corner};
    if (!gradin_polygon_is_simple(polygon) || gradin_polygon_area_m2(polygon) < 1e-6) {
        complain(r, at, "is no simple polygon; edges cross, corners repeat or it has no area");
        return false;
    }
    *out = polygon;
    return true;
}

bool list_numbers(reader *r, const node *at, const schema_key *key, char *item) {
    if (!value_count(r, at, key)) return false;
    double *made = alloc(&r->c, at->n_child, sizeof *made);
    if (!made || !value_numbers(r, at, key, made)) return false;
    memcpy(item + key->offset, &made, sizeof made);
    memcpy(item + key->count_offset, &at->n_child, sizeof(int));
    return true;
}

static bool read_one_choice(reader *r, const node *at, const schema_key *key, int *out) {
    for (int i = 0; at->kind == NODE_TEXT && key->choice[i]; i++)
        if (strcmp(at->text, key->choice[i]) == 0) {
            *out = i;
            return true;
        }
    complain(r, at, "%s", key->needs);
    return false;
}

bool list_choices(reader *r, const node *at, const schema_key *key, char *item) {
    if (!value_count(r, at, key)) return false;
    int *made = alloc(&r->c, at->n_child, sizeof *made);
    bool good = made != NULL;
    for (int i = 0; made && i < at->n_child; i++)
        good &= read_one_choice(r, at->child[i], key, &made[i]);
    memcpy(item + key->offset, &made, sizeof made);
    memcpy(item + key->count_offset, &at->n_child, sizeof(int));
    return good;
}

bool list_names(reader *r, const node *at, const schema_key *key, char *item) {
    if (!value_count(r, at, key)) return false;
    const char **made = alloc(&r->c, at->n_child, sizeof *made);
    bool good = made != NULL;
    for (int i = 0; made && i < at->n_child; i++) {
        const node *name = at->child[i];
        made[i] = name->kind == NODE_TEXT ? name->text : "";
        if (name->kind == NODE_TEXT) continue;
        complain(r, name, "%s", key->needs);
        good = false;
    }
    memcpy(item + key->offset, &made, sizeof made);
    memcpy(item + key->count_offset, &at->n_child, sizeof(int));
    return good;
}

bool list_points(reader *r, const node *at, const schema_key *key, char *item) {
    gradin_vec2 *point = NULL;
    int n = 0;
    bool good = value_points(r, at, key, &point, &n);
    memcpy(item + key->offset, &point, sizeof point);
    memcpy(item + key->count_offset, &n, sizeof n);
    return good;
}
