/* Views from chosen seats, as pictures inside the document. Source: RFC 4648, section 4 (base 64),
 * and RFC 2397 (data:), from memory. */
#include "table/report/html.h"

static void put_base64(table_text *out, const unsigned char *bytes, size_t n) {
    static const char digit[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    for (size_t i = 0; i < n; i += 3) {
        unsigned a = bytes[i], b = i + 1 < n ? bytes[i + 1] : 0, c = i + 2 < n ? bytes[i + 2] : 0;
        unsigned bits = a << 16 | b << 8 | c;
        char four[4] = {digit[bits >> 18], digit[bits >> 12 & 63],
                        i + 1 < n ? digit[bits >> 6 & 63] : '=',
                        i + 2 < n ? digit[bits & 63] : '='};
        table_put_bytes(out, four, 4);
    }
}

static void put_words(table_text *out, const gradin_assessment *a, const gradin_report_image *v) {
    html_put(out, v->title);
    table_put(out, ": ");
    html_put(out, a->model->seats.id[v->seat]);
    table_put(out, " sees ");
    table_put_number(out, TABLE_PERCENT, 100.0 * a->sight.visible[v->seat]);
    table_put(out, " % of the focus");
}

static void put_view(table_text *out, const gradin_assessment *a, int layout,
                     const gradin_report_image *v) {
    table_put(out, "<figure class=\"view\"><img ");
    table_print(out, "id=\"view-%d-%d\" alt=\"View. ", layout, v->seat);
    put_words(out, a, v);
    table_put(out, "\" src=\"data:image/png;base64,");
    put_base64(out, v->png, v->size);
    table_put(out, "\">\n<figcaption>");
    put_words(out, a, v);
    table_print(out,
                " <button type=\"button\" class=\"pick needs-script\" hidden data-layout=\"%d\" "
                "data-seat=\"%d\">Pick it on the plan<span class=\"off\">: ",
                layout, v->seat);
    html_put(out, a->model->seats.id[v->seat]);
    table_put(out, "</span></button></figcaption></figure>\n");
}

bool html_has_views(const gradin_report *report) {
    for (int i = 0; report->image && report->n_image && i < report->n; i++)
        if (report->n_image[i] > 0) return true;
    return false;
}

void html_put_views(table_text *out, const gradin_report *report) {
    for (int i = 0; i < report->n; i++) {
        if (report->n_image[i] < 1) continue;
        table_put(out, "<h3>");
        html_put(out, report->assessment[i]->model->layout_name);
        table_put(out, "</h3>\n<div class=\"views\">\n");
        for (int k = 0; k < report->n_image[i]; k++)
            put_view(out, report->assessment[i], i, &report->image[i][k]);
        table_put(out, "</div>\n");
    }
}
