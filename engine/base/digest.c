/* Running content digest: each step is XXH3-128 of the bytes, seeded with the digest so far. Not a
 * cryptographic hash: it tells inputs apart, it does not protect them. */
#include "base/digest.h"

#include <stdio.h>
#include <string.h>
#include <xxhash.h>

static void put_hex(char hex[33], XXH128_hash_t hash) {
    XXH128_canonical_t canonical;
    XXH128_canonicalFromHash(&canonical, hash);
    for (int i = 0; i < 16; i++) snprintf(hex + 2 * i, 3, "%02x", canonical.digest[i]);
}

void gradin_digest_fold(char hex[33], const void *bytes, size_t size) {
    put_hex(hex, XXH3_128bits_withSeed(bytes, size, XXH3_64bits(hex, strlen(hex))));
}

void gradin_digest_whole(char hex[33], const void *bytes, size_t size) {
    put_hex(hex, XXH3_128bits(bytes, size));
}
