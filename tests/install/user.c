/* A user's program: the installed header, the installed library, and external functions of its own
 * whose names the library has inside, too. */
#include <gradin/gradin.h>
#include <stdio.h>

int grow(int n);
int take(int n);
int step_m(int n);

int grow(int n) {
    return n + 1;
}
int take(int n) {
    return n - 1;
}
int step_m(int n) {
    return take(grow(n));
}

int main(int n_argument, char **argument) {
    static gradin_error error;
    gradin_arena *arena = gradin_arena_create();
    gradin_model model;
    gradin_assessment a;
    char *csv;
    size_t size;
    gradin_assess_options options = {.sight = {.n_sample = 16}};
    if (n_argument != 2 || !arena || step_m(1) != 1 ||
        gradin_model_read(arena, argument[1], &model, &error) != GRADIN_OK ||
        gradin_assess(arena, &model, &options, &a, &error) != GRADIN_OK ||
        gradin_seats_csv(arena, &a, GRADIN_CSV_SI, &csv, &size, &error) != GRADIN_OK)
        return 1;
    printf("%d seats, map %s, table of %s\n", a.sight.n_seat, gradin_map_name(GRADIN_MAP_VISIBLE),
           size > 1000 ? "some size" : "no size");
    gradin_arena_destroy(arena);
    return 0;
}
