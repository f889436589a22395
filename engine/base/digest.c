/* Running content digest: each step is XXH3-128 of the bytes, seeded with the digest so far. Not a
 * cryptographic hash: it tells inputs apart, it does not protect them. */
#include "base/digest.h"

#include <errno.h>
#include <string.h>
#include <unistd.h>
#include <xxhash.h>

static void put_hex(char hex[33], XXH128_hash_t hash) {
    XXH128_canonical_t canonical;
    XXH128_canonicalFromHash(&canonical, hash);
    for (int i = 0; i < 32; i++)
        hex[i] = "0123456789abcdef"[canonical.digest[i / 2] >> (i % 2 ? 0 : 4) & 15];
    hex[32] = '\0';
}

void gradin_digest_fold(char hex[33], const void *bytes, size_t size) {
    put_hex(hex, XXH3_128bits_withSeed(bytes, size, XXH3_64bits(hex, strlen(hex))));
}

void gradin_digest_whole(char hex[33], const void *bytes, size_t size) {
    put_hex(hex, XXH3_128bits(bytes, size));
}

static gradin_status fold_blocks(XXH3_state_t *state, int fd) {
    char block[1 << 16];
    for (;;) {
        ssize_t n = read(fd, block, sizeof block);
        if (n == 0) return GRADIN_OK;
        if (n < 0 && errno == EINTR) continue;
        if (n < 0) return GRADIN_IO_FAILED;
        XXH3_128bits_update(state, block, (size_t)n);
    }
}

gradin_status gradin_digest_open(char hex[33], int fd) {
    XXH3_state_t *state = XXH3_createState();
    if (!state) return GRADIN_NO_MEMORY;
    XXH3_128bits_reset(state);
    gradin_status status = fold_blocks(state, fd);
    if (status == GRADIN_OK) put_hex(hex, XXH3_128bits_digest(state));
    XXH3_freeState(state);
    return status;
}
