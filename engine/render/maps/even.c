/* A figure that is the same at each seat needs a line and no picture. */
#include "render/maps/quantity.h"

#include <stdio.h>
#include <string.h>

bool quantity_is_even(const quantity *q) {
    char first[16], text[16];
    colour fill;
    if (!q->value || q->outlook || q->model->seats.n_seat < 1) return false;
    quantity_seat(q, 0, first, &fill);
    for (int i = 1; i < q->model->seats.n_seat; i++) {
        quantity_seat(q, i, text, &fill);
        if (strcmp(text, first) != 0 || quantity_class(q, i) != quantity_class(q, 0)) return false;
    }
    return true;
}

void quantity_even_text(const quantity *q, char *text, size_t size) {
    char seat[16];
    colour fill;
    quantity_seat(q, 0, seat, &fill);
    if (quantity_is_same(q, 0))
        snprintf(text, size, "%s: no seat differs by what can be told", q->title);
    else if (!isfinite(q->value[0]))
        snprintf(text, size, "%s: applies to no seat", q->title);
    else
        snprintf(text, size, "%s: %s%s%s at each seat", q->title, seat, q->unit[0] ? " " : "",
                 q->unit);
}
