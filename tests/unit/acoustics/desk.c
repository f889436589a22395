#include "desk.h"

#include <criterion/criterion.h>

gradin_arena *desk_arena;

void desk_open(void) {
    desk_arena = gradin_arena_create();
}

void desk_close(void) {
    gradin_arena_destroy(desk_arena);
}

double *desk_numbers(size_t n) {
    double *made = gradin_arena_alloc(desk_arena, n, sizeof *made);
    cr_assert(made != NULL);
    return made;
}

double desk_exchange_m2(const gradin_exchange *exchange, int i, int j) {
    return exchange->exchange_m2[(size_t)i * (size_t)exchange->n + (size_t)j];
}
