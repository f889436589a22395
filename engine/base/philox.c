/* Philox4x32-10: J. K. Salmon, M. A. Moraes, R. O. Dror, D. E. Shaw, "Parallel random numbers: as
 * easy as 1, 2, 3", SC '11, section 4.3. A number is a function of its counter, so it does not
 * matter which thread asks for it, or when. */
#include "base/philox.h"

enum { ROUNDS = 10 };

static void mix(uint32_t x[4], const uint32_t key[2]) {
    uint64_t low = (uint64_t)0xD2511F53u * x[0], high = (uint64_t)0xCD9E8D57u * x[2];
    uint32_t y[4] = {(uint32_t)(high >> 32) ^ x[1] ^ key[0], (uint32_t)high,
                     (uint32_t)(low >> 32) ^ x[3] ^ key[1], (uint32_t)low};
    for (int i = 0; i < 4; i++) x[i] = y[i];
}

random_words gradin_philox(const uint32_t counter[4], const uint32_t key[2]) {
    random_words r = {{counter[0], counter[1], counter[2], counter[3]}};
    uint32_t k[2] = {key[0], key[1]};
    for (int i = 0; i < ROUNDS; i++) {
        mix(r.word, k);
        k[0] += 0x9E3779B9u;
        k[1] += 0xBB67AE85u;
    }
    return r;
}
