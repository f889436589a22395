/* Lengths for people. Feet are written as decimal feet and decimal inches ("17.25 ft", "3.5 in")
 * and not as feet with inches and fractions: the files hold decimal feet, so that what is read in a
 * message, a table or on a map can be typed back as it stands. Common practice, no source: decimal
 * feet are what survey and set-out drawings use. */
#include "base/lengths.h"

#include <string.h>

static const double INCH_M = GRADIN_FOOT_M / 12.0;

bool is_feet(const char *units) {
    return units && strcmp(units, "ft") == 0;
}

double unit_length_m(const char *units) {
    return is_feet(units) ? GRADIN_FOOT_M : 1.0;
}

length_unit length_unit_of(const char *units) {
    return is_feet(units) ? (length_unit){"ft", 1.0 / GRADIN_FOOT_M, 2}
                          : (length_unit){"m", 1.0, 2};
}

length_unit small_unit_of(const char *units) {
    return is_feet(units) ? (length_unit){"in", 1.0 / INCH_M, 1} : (length_unit){"mm", 1000.0, 0};
}

length_unit stated_unit_of(const char *units) {
    length_unit unit = length_unit_of(units);
    unit.decimals = 3;
    return unit;
}

char *length_number(char out[LENGTH_CHARS], double length_m, length_unit unit) {
    return gradin_format_fixed(out, LENGTH_CHARS, length_m * unit.per_m, unit.decimals);
}

char *length_text(char out[LENGTH_CHARS], double length_m, length_unit unit) {
    length_number(out, length_m, unit);
    if (out[0] == '\0' || unit.name[0] == '\0') return out;
    size_t used = strlen(out);
    if (used + strlen(unit.name) + 2 > LENGTH_CHARS) return out;
    out[used] = ' ';
    strcpy(out + used + 1, unit.name);
    return out;
}
