/* Random numbers of a choice: functions of draw, layout and purpose, so that neither threads nor
 * the order of layouts matter, and a draw is the same for all layouts where they share a doubt. */
#include "base/philox.h"
#include "studies/choose/choose.h"

static const uint32_t key[2] = {0x43484f4fu, 0x53450001u};

/* In (0, 1), never an end. */
static double even(uint32_t word) {
    return (word + 0.5) / 4294967296.0;
}

static random_words words(int draw, int item, choose_stream stream) {
    const uint32_t counter[4] = {(uint32_t)draw, (uint32_t)item, (uint32_t)stream, 0};
    return gradin_philox(counter, key);
}

double choose_even(int draw, int item, choose_stream stream) {
    return even(words(draw, item, stream).word[0]);
}

/* Box and Muller. */
double choose_normal(int draw, int item, choose_stream stream) {
    random_words w = words(draw, item, stream);
    return sqrt(-2.0 * log(even(w.word[0]))) * cos(2.0 * GRADIN_PI * even(w.word[1]));
}
