/* From a value and the scale of its figure to a colour, a class and a text. */
#include "render/maps/quantity.h"

#include <stdio.h>
#include <string.h>

static bool is_worse(const quantity *q, double value, double limit) {
    if (isnan(limit)) return false;
    return q->is_high_good ? value < limit : value > limit;
}

static int class_of_verdict(gradin_verdict verdict) {
    static const int of[GRADIN_N_VERDICT] = {GRADIN_RATING_CLEAR, GRADIN_RATING_CLEAR,
                                             GRADIN_RATING_FAIR, GRADIN_RATING_POOR};
    return of[verdict];
}

static int class_of_effect(gradin_effect effect) {
    static const int of[GRADIN_N_EFFECT] = {-1, GRADIN_RATING_POOR, GRADIN_RATING_GOOD,
                                            GRADIN_RATING_CLEAR};
    return of[effect];
}

int quantity_class(const quantity *q, int seat) {
    if (!q->value) return (int)q->rating[seat];
    double value = q->value[seat];
    if (!isfinite(value)) return -1;
    if (q->effect) return class_of_effect(q->effect[seat]);
    if (q->seat_class) return q->seat_class[seat] < GRADIN_N_RATING ? (int)q->seat_class[seat] : -1;
    if (q->verdict) return class_of_verdict(q->verdict[seat]);
    if (!q->limit) return is_worse(q, value, q->criterion) ? GRADIN_RATING_POOR : 0;
    int worst = GRADIN_RATING_CLEAR;
    for (int i = 0; i < 3; i++)
        if (is_worse(q, value, q->limit[i])) worst = i + 1;
    return worst;
}

bool quantity_is_marked(const quantity *q, int seat) {
    return quantity_class(q, seat) == GRADIN_RATING_POOR;
}

bool quantity_is_same(const quantity *q, int seat) {
    return q->effect && q->effect[seat] == GRADIN_EFFECT_SAME;
}

bool quantity_is_near(const quantity *q, int seat) {
    return q->verdict && quantity_class(q, seat) == GRADIN_RATING_FAIR;
}

static char *signed_text(const quantity *q, double shown, int decimals, char text[16]) {
    char plain[16];
    gradin_format_fixed(plain, sizeof plain, shown, decimals);
    bool has_plus = q->is_difference && plain[0] != '-' && strpbrk(plain, "123456789");
    snprintf(text, 16, "%s%.14s", has_plus ? "+" : "", plain);
    return text;
}

char *quantity_tick_text(const quantity *q, double shown, char text[16]) {
    return signed_text(q, shown, q->tick_decimals, text);
}

char *quantity_text(const quantity *q, double value, char text[16]) {
    return signed_text(q, value * q->shown_per_si, q->decimals, text);
}

/* Rounded, the value would read as keeping this limit, which it does not. */
static bool reads_within(const quantity *q, double value, double limit, int decimals) {
    double tens = pow(10.0, decimals);
    double read = round(value * q->shown_per_si * tens) / tens / q->shown_per_si;
    double slack = 1e-9 * fabs(limit);
    bool is_read_worse = q->is_high_good ? read < limit - slack : read > limit + slack;
    return is_worse(q, value, limit) && !is_read_worse;
}

/* More of them where fewer would hide that a limit is not kept. Not where a verdict by how well the
 * value is known says that: which side of the limit a hundredth of a decibel lies on tells nothing.
 */
static int decimals_of(const quantity *q, double value) {
    int decimals = q->decimals;
    if (q->verdict) return decimals;
    for (; decimals < q->decimals + 3; decimals++) {
        bool hides =
            !q->limit && !q->is_criterion_hidden && reads_within(q, value, q->criterion, decimals);
        for (int i = 0; q->limit && i < 3; i++)
            hides |= reads_within(q, value, q->limit[i], decimals);
        if (!hides) break;
    }
    return decimals;
}

void quantity_seat(const quantity *q, int seat, char text[16], colour *fill) {
    if (!q->value) {
        snprintf(text, 16, "%s", quantity_class_mark(q->rating[seat]));
        *fill = colour_at(quantity_class_quality(q->rating[seat]));
        return;
    }
    double value = q->value[seat];
    *fill = COLOUR_WHITE;
    if (!isfinite(value)) {
        snprintf(text, 16, "\xE2\x80\x93");
        return;
    }
    if (quantity_is_same(q, seat)) {
        snprintf(text, 16, "=");
        return;
    }
    *fill = quantity_colour(q, value);
    signed_text(q, value * q->shown_per_si, decimals_of(q, value), text);
}

char *quantity_limit_text(const quantity *q, double value, char text[16]) {
    double tens = pow(10.0, q->decimals), shown = value * q->shown_per_si;
    bool is_whole = fabs(round(shown * tens) / tens - shown) < 1e-6;
    return gradin_format_fixed(text, 16, shown, q->decimals + (is_whole ? 0 : 1));
}

void quantity_heading(const quantity *q, char *text, size_t size) {
    bool has_unit = q->unit && q->unit[0] != '\0';
    snprintf(text, size, "%s%s%s", q->title, has_unit ? ", " : "", has_unit ? q->unit : "");
}

/* Two letters: one alone would be read as the C-value, and a figure as a row's. */
const char *quantity_class_mark(gradin_rating rating) {
    static const char *const mark[GRADIN_N_RATING] = {"Cl", "Go", "Fa", "Po"};
    return mark[rating];
}

const char *quantity_class_name(gradin_rating rating) {
    static const char *const name[GRADIN_N_RATING] = {"clear", "good", "fair", "poor"};
    return name[rating];
}

double quantity_class_quality(gradin_rating rating) {
    static const double quality[GRADIN_N_RATING] = {1.0, 0.7, 0.38, 0.05};
    return quality[rating];
}
