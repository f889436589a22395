/* fuzz/kinds.h: the kinds of files that the library reads, each with what is done with one. */
#ifndef TEST_FUZZ_KINDS_H
#define TEST_FUZZ_KINDS_H

#include "gradin/base.h"

typedef struct fuzz_kind {
    const char *name;  /* also of its folder below corpus/ */
    const char *input; /* the file's name among the good ones */
    const char *seed;  /* good files that a run begins with, divided by blanks */
    bool is_text;
    gradin_status (*run)(gradin_arena *arena, const char *folder, const void *bytes, size_t size,
                         gradin_error *error);
} fuzz_kind;

enum { N_FUZZ_KIND = 11 };
extern const fuzz_kind fuzz_kinds[N_FUZZ_KIND];

/* No room by radiosity, which takes a hundred times as long. */
extern bool fuzz_is_quick;

/* NULL when there is none of that name. */
const fuzz_kind *fuzz_kind_named(const char *name);

#endif
