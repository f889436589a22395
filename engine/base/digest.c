/* Running content digest: each step is XXH3-128 of the bytes, seeded with the digest so far. Not a
 * cryptographic hash: it tells inputs apart, it does not protect them. */
#include "base/digest.h"

#include <stdio.h>
#include <string.h>
#include <xxhash.h>

void gradin_digest_fold(char hex[33], const void *bytes, size_t size) {
    XXH64_hash_t seed = XXH3_64bits(hex, strlen(hex));
    XXH128_canonical_t canonical;
    XXH128_canonicalFromHash(&canonical, XXH3_128bits_withSeed(bytes, size, seed));
    for (int i = 0; i < 16; i++) snprintf(hex + 2 * i, 3, "%02x", canonical.digest[i]);
}
