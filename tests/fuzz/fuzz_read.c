/* libFuzzer target of the readers and of what follows them; run.sh builds and runs it. The kind of
 * file is GRADIN_FUZZ_KIND, yaml without it. Half of the changes are those of mutate.h, which know
 * lines, numbers and words; the rest are libFuzzer's. */
#include "fuzz/kinds.h"
#include "fuzz/mutate.h"
#include "fuzz/target.h"

#include <stdio.h>
#include <stdlib.h>

int LLVMFuzzerInitialize(int *n_argument, char ***argument);
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);
size_t LLVMFuzzerMutate(uint8_t *data, size_t size, size_t max_size);
size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t max_size, unsigned int seed);

static const fuzz_kind *kind;

int LLVMFuzzerInitialize(int *n_argument, char ***argument) {
    const char *name = getenv("GRADIN_FUZZ_KIND");
    (void)n_argument;
    (void)argument;
    fuzz_is_quick = true;
    kind = fuzz_kind_named(name ? name : "yaml");
    if (!kind ||
        !target_open(GRADIN_SOURCE_DIR "/tests/faults/hall", GRADIN_SOURCE_DIR "/tests/fuzz/hall"))
        abort();
    atexit(target_close);
    return 0;
}

size_t LLVMFuzzerCustomMutator(uint8_t *data, size_t size, size_t max_size, unsigned int seed) {
    uint64_t state = (uint64_t)seed * 2654435761u + 1;
    if (!kind->is_text || seed % 2 == 0 || size == 0) return LLVMFuzzerMutate(data, size, max_size);
    mutate((char *)data, &size, max_size, &state);
    return size;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    const char *complaint = NULL;
    target_run(kind, data, size, &complaint);
    if (!complaint) return 0;
    fprintf(stderr, "%s\n", complaint);
    abort();
}
