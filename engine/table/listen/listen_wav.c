/* A recording as RIFF WAVE: PCM of 24 bits, mono.
 *
 * Multimedia Programming Interface and Data Specifications 1.0 (1991): chunks "fmt ", LIST of INFO
 * (INAM, ICMT, ISFT) and "data", each of an even count of bytes, numbers with the least byte first.
 * Samples are rounded to the nearest step, with no dither: the noise is its own. */
#include "base/use.h"
#include "gradin/acoustics/listen_write.h"
#include "studies/shared/complete.h"
#include "table/listen/listen.h"

#include <string.h>

enum { RATE = GRADIN_LISTEN_RATE_HZ, SAMPLE_BYTES = 3, FULL = 8388607, PCM = 1 };

static void put_number(table_text *out, uint32_t value, int n_byte) {
    char byte[4];
    for (int i = 0; i < n_byte; i++) byte[i] = (char)(unsigned char)(value >> (8 * i) & 0xFF);
    table_put_bytes(out, byte, (size_t)n_byte);
}

static void put_format(table_text *out) {
    table_put(out, "fmt ");
    put_number(out, 16, 4);
    put_number(out, PCM, 2);
    put_number(out, 1, 2); /* channel */
    put_number(out, RATE, 4);
    put_number(out, RATE * SAMPLE_BYTES, 4);
    put_number(out, SAMPLE_BYTES, 2);
    put_number(out, 8 * SAMPLE_BYTES, 2);
}

/* Text with its NUL, and one more byte where the count is odd. */
static void put_info(table_text *out, const char *id, const char *text) {
    size_t size = strlen(text) + 1;
    table_put(out, id);
    put_number(out, (uint32_t)size, 4);
    table_put_bytes(out, text, size);
    if (size % 2) table_put_bytes(out, "", 1);
}

static void put_list(gradin_arena *arena, table_text *out, const gradin_recording *r) {
    table_text list = {.arena = arena}, comment = {.arena = arena};
    listen_put_levels(&comment, r, "; ");
    table_put(&list, "INFO");
    put_info(&list, "INAM", r->model->seats.id[r->seat]);
    put_info(&list, "ICMT", comment.failed ? "" : comment.bytes);
    put_info(&list, "ISFT", "gradin " GRADIN_VERSION);
    out->failed |= list.failed || comment.failed;
    table_put(out, "LIST");
    put_number(out, (uint32_t)list.size, 4);
    if (!list.failed) table_put_bytes(out, list.bytes, list.size);
}

static void put_samples(const gradin_recording *r, unsigned char *at) {
    for (int i = 0; i < r->n_sample; i++) {
        double held = fmin(fmax(r->sample[i], -1.0), 1.0);
        int32_t value = (int32_t)floor(held * FULL + 0.5);
        for (int b = 0; b < SAMPLE_BYTES; b++)
            *at++ = (unsigned char)((uint32_t)value >> (8 * b) & 0xFF);
    }
}

gradin_status gradin_listen_wav(gradin_arena *arena, const gradin_recording *recording,
                                unsigned char **bytes, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK ||
        recording_complete(recording, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    table_text head = {.arena = arena}, start = {.arena = arena};
    uint32_t n_data = (uint32_t)recording->n_sample * SAMPLE_BYTES, n_pad = n_data % 2;
    table_put(&head, "WAVE");
    put_format(&head);
    put_list(arena, &head, recording);
    table_put(&head, "data");
    put_number(&head, n_data, 4);
    table_put(&start, "RIFF");
    put_number(&start, (uint32_t)head.size + n_data + n_pad, 4);
    size_t n_before = start.size + head.size;
    unsigned char *made = gradin_arena_alloc(arena, n_before + n_data + n_pad, 1);
    if (!made || head.failed || start.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the sound file");
    memcpy(made, start.bytes, start.size);
    memcpy(made + start.size, head.bytes, head.size);
    put_samples(recording, made + n_before);
    *bytes = made;
    *size = n_before + n_data + n_pad;
    return GRADIN_OK;
}
