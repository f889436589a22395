/* A figure that is the same at each seat needs a line and no picture. */
#include "render/maps/quantity.h"

#include <stdio.h>
#include <string.h>

/* The first seat that counts: of a change, the first that both layouts have the figure of. */
static int first_seat(const quantity *q) {
    int i = 0, n = q->model->seats.n_seat;
    while (q->effect && i < n && quantity_class(q, i) < 0) i++;
    return i < n ? i : 0;
}

bool quantity_is_even(const quantity *q) {
    char wanted[16], text[16];
    colour fill;
    if (!q->value || q->outlook || q->model->seats.n_seat < 1) return false;
    int first = first_seat(q), class_of_first = quantity_class(q, first);
    quantity_seat(q, first, wanted, &fill);
    for (int i = first + 1; i < q->model->seats.n_seat; i++) {
        if (q->effect && quantity_class(q, i) < 0) continue;
        quantity_seat(q, i, text, &fill);
        if (strcmp(text, wanted) != 0 || quantity_class(q, i) != class_of_first) return false;
    }
    return true;
}

void quantity_even_text(const quantity *q, char *text, size_t size) {
    char seat[16];
    colour fill;
    int first = first_seat(q);
    quantity_seat(q, first, seat, &fill);
    if (quantity_is_same(q, first))
        snprintf(text, size, "%s: no seat differs by what can be told", q->title);
    else if (!isfinite(q->value[first]))
        snprintf(text, size, "%s: applies to no seat", q->title);
    else
        snprintf(text, size, "%s: %s%s%s at each seat", q->title, seat, q->unit[0] ? " " : "",
                 q->unit);
}
