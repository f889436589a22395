/* The points of a study: every combination of values, the last key quickest, or so many points of a
 * low-discrepancy sequence; such a point is its number, and nothing of it is kept. Or those that a
 * search picked, value by value. */
#include "gradin/study.h"

#include <stdio.h>
#include <string.h>

enum { DECIMALS = 6 };

static bool is_varied_good(const gradin_study *s) {
    if (!s || !s->varied || s->n_varied < 1 || s->n_varied > GRADIN_MAX_VARIED) return false;
    for (int k = 0; k < s->n_varied; k++)
        if (s->varied[k].n_value < 0 || (s->varied[k].n_value > 0 && !s->varied[k].value))
            return false;
    return true;
}

int gradin_study_points(const gradin_study *s) {
    long n = 1;
    if (!is_varied_good(s)) return 0;
    if (s->chosen) return s->n_chosen <= GRADIN_MAX_STUDY_POINT ? s->n_chosen : 0;
    if (s->n_design > 0) return s->n_design <= GRADIN_MAX_STUDY_POINT ? s->n_design : 0;
    for (int k = 0; k < s->n_varied; k++) {
        n *= s->varied[k].n_value;
        if (n > GRADIN_MAX_STUDY_POINT) return 0;
    }
    return (int)n;
}

static bool is_there(const gradin_study *s, int point, int key) {
    return point >= 0 && point < gradin_study_points(s) && key >= 0 && key < s->n_varied;
}

static const char *chosen_value(const gradin_study *s, int point, int key) {
    return s->chosen[(size_t)point * (size_t)s->n_varied + (size_t)key];
}

static int index_of_chosen(const gradin_study *s, int point, int key) {
    const gradin_varied *v = &s->varied[key];
    for (int i = 0; i < v->n_value; i++)
        if (strcmp(v->value[i], chosen_value(s, point, key)) == 0) return i;
    return v->n_value > 0 ? -1 : point;
}

int gradin_study_index(const gradin_study *s, int point, int key) {
    if (!is_there(s, point, key)) return -1;
    if (s->chosen) return index_of_chosen(s, point, key);
    int n = s->varied[key].n_value;
    if (s->n_design > 0) return n > 0 ? (int)(gradin_sobol(point, key) * n) : point;
    for (int k = s->n_varied - 1; k > key; k--) point /= s->varied[k].n_value;
    return point % n;
}

/* As short as it is to read back to six decimals. */
static void write_number(double value, char *text) {
    gradin_format_fixed(text, GRADIN_VALUE_CHARS, value, DECIMALS);
    char *end = text + strlen(text);
    while (end > text && end[-1] == '0' && strchr(text, '.')) *--end = '\0';
    if (end > text && end[-1] == '.') *--end = '\0';
}

bool gradin_study_value(const gradin_study *s, int point, int key, char *text) {
    if (!text || !is_there(s, point, key)) return false;
    const gradin_varied *v = &s->varied[key];
    if (s->chosen)
        snprintf(text, GRADIN_VALUE_CHARS, "%s", chosen_value(s, point, key));
    else if (v->n_value > 0)
        snprintf(text, GRADIN_VALUE_CHARS, "%s", v->value[gradin_study_index(s, point, key)]);
    else
        write_number(v->from + gradin_sobol(point, key) * (v->to - v->from), text);
    return true;
}
