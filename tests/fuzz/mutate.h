/* fuzz/mutate.h: changes to a text, drawn from a generator that is the same on every machine. */
#ifndef TEST_FUZZ_MUTATE_H
#define TEST_FUZZ_MUTATE_H

#include <stddef.h>
#include <stdint.h>

/* Changes text[*size] (room for capacity bytes) once; state is the generator's, never 0. */
void mutate(char *text, size_t *size, size_t capacity, uint64_t *state);

#endif
