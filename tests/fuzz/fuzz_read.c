/* libFuzzer target of the reader; not part of the suite. From the project's folder:
 *
 *   cmake -S . -B build/fuzz -G Ninja -DCMAKE_C_COMPILER=clang -DCMAKE_BUILD_TYPE=Debug \
 *     -DGRADIN_SANITIZE=ON -DGRADIN_FUZZ=ON && cmake --build build/fuzz --target fuzz_read
 *   mkdir -p build/fuzz/corpus
 *   build/fuzz/tests/fuzz_read -max_len=20000 -dict=tests/fuzz/words.dict build/fuzz/corpus \
 *     tests/faults/hall demo */
#include "fuzz/target.h"

#include <stdio.h>
#include <stdlib.h>

int LLVMFuzzerInitialize(int *n_argument, char ***argument);
int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

int LLVMFuzzerInitialize(int *n_argument, char ***argument) {
    (void)n_argument;
    (void)argument;
    if (!target_open(GRADIN_SOURCE_DIR "/tests/faults/hall")) abort();
    atexit(target_close);
    return 0;
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size) {
    const char *complaint = NULL;
    target_run(data, size, &complaint);
    if (!complaint) return 0;
    fprintf(stderr, "%s\n", complaint);
    abort();
}
