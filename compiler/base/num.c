/* Reading and showing numbers without the C library: the same bytes on every machine and in every locale.
   in: digits, or doubles. out: doubles, or digits rounded from the exact binary value. Never shows a minus before nought. */
#include "base/num.h"

#include <math.h>
#include <string.h>

enum {
    MOST_DIGITS = 15,            /* every decimal of 15 digits survives being a double */
    MOST_POWER = 22,             /* 10^22 is the largest power of ten that is exact in a double */
    LIMB_DIGITS = 9,
    LIMB = 1000000000,           /* 10^LIMB_DIGITS */
    WHOLE_LIMBS = 36,            /* the largest double has 309 digits before its point */
    LIMBS = WHOLE_LIMBS + 122,   /* the smallest has 1074 behind it */
    PLAIN_TOP = 20, PLAIN_BOTTOM = -10      /* leading digits from 10^-10 to 10^20 are written without an exponent */
};

static const double TEN[] = { 1, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17,
                              1e18, 1e19, 1e20, 1e21, 1e22 };
static const uint32_t TEN_WHOLE[] = { 1, 10, 100, 1000, 10000, 100000, 1000000, 10000000, 100000000, 1000000000 };

/* The exponent after e, with its sign; far ones stay far. */
static int read_power(const char *s, uint32_t n, uint32_t i)
{
    int power = 0;
    bool minus = i < n && s[i] == '-';
    if (i < n && (s[i] == '-' || s[i] == '+')) i++;
    for (; i < n; i++) if (power < 100000) power = power * 10 + (s[i] - '0');
    return minus ? -power : power;
}

SgNumFault sg_num_read(const char *s, uint32_t n, double *value)
{
    uint64_t whole = 0;
    int digits = 0, power = 0;
    bool behind_point = false;
    uint32_t i = 0;
    for (; i < n && s[i] != 'e' && s[i] != 'E'; i++) {
        if (s[i] == '.') {
            behind_point = true;
            continue;
        }
        bool counts = digits > 0 || s[i] != '0';
        if (counts && digits < MOST_DIGITS) whole = whole * 10 + (uint64_t)(s[i] - '0');
        else if (counts && power < 100000) power++;
        if (counts) digits++;
        if (behind_point && power > -100000) power--;
    }
    if (i < n) power += read_power(s, n, i + 1);
    *value = 0;
    int top = power + (digits < MOST_DIGITS ? digits : MOST_DIGITS) - 1;
    bool far = whole && (top > MOST_POWER || top < -MOST_POWER);
    if (whole && !far) {
        double x = (double)whole;
        if (power > 0) x *= TEN[power];
        else if (power >= -MOST_POWER) x /= TEN[-power];
        else x = x / TEN[MOST_POWER] / TEN[-power - MOST_POWER];     /* rounded twice: still right to 15 digits */
        *value = x;
    }
    return digits > MOST_DIGITS ? SG_NUM_DIGITS : far ? SG_NUM_RANGE : SG_NUM_OK;
}

/* The exact decimal expansion of a double: limb[WHOLE_LIMBS - 1] holds the units, the limbs before it the higher digits. */
typedef struct { uint32_t limb[LIMBS]; int first, last; bool minus; } Decimal;      /* first..last: limbs that may be non-zero */

static void shift_up(Decimal *d, int bits)
{
    while (bits > 0) {
        int by = bits < 29 ? bits : 29;
        uint64_t carry = 0;
        for (int i = d->last; i >= d->first; i--) {
            uint64_t x = ((uint64_t)d->limb[i] << by) + carry;
            d->limb[i] = (uint32_t)(x % LIMB);
            carry = x / LIMB;
        }
        if (carry) d->limb[--d->first] = (uint32_t)carry;
        bits -= by;
    }
}

/* Nine bits at a time, since 2^9 divides the limb and every step is exact. */
static void shift_down(Decimal *d, int bits)
{
    while (bits > 0) {
        int by = bits < LIMB_DIGITS ? bits : LIMB_DIGITS;
        uint32_t carry = 0, mask = (1u << by) - 1;
        for (int i = d->first; i <= d->last; i++) {
            uint32_t low = d->limb[i] & mask;
            d->limb[i] = (d->limb[i] >> by) + carry;
            carry = (LIMB >> by) * low;
        }
        if (carry) d->limb[++d->last] = carry;
        bits -= by;
    }
}

static void expand(double x, Decimal *d)
{
    uint64_t bits;
    memset(d, 0, sizeof *d);
    memcpy(&bits, &x, sizeof bits);
    d->minus = bits >> 63;
    int power = (int)(bits >> 52 & 0x7FF);
    uint64_t whole = bits & 0xFFFFFFFFFFFFFu;
    if (power) whole |= 1ull << 52;
    else power = 1;
    d->first = WHOLE_LIMBS - 2;
    d->last = WHOLE_LIMBS - 1;
    d->limb[d->first] = (uint32_t)(whole / LIMB);
    d->limb[d->last] = (uint32_t)(whole % LIMB);
    power -= 1075;
    if (power > 0) shift_up(d, power);
    else shift_down(d, -power);
}

/* Digits are counted from the point: 0 the units, 1 the tens, -1 the tenths. */
static int limb_of(int digit)
{
    int groups = digit >= 0 ? digit / LIMB_DIGITS : -((LIMB_DIGITS - 1 - digit) / LIMB_DIGITS);
    return WHOLE_LIMBS - 1 - groups;
}

static uint32_t weight_of(int digit)
{
    return TEN_WHOLE[(digit % LIMB_DIGITS + LIMB_DIGITS) % LIMB_DIGITS];
}

static uint32_t digit_at(const Decimal *d, int digit)
{
    int i = limb_of(digit);
    return i < 0 || i >= LIMBS ? 0 : d->limb[i] / weight_of(digit) % 10;
}

static bool top_digit(const Decimal *d, int *top)
{
    for (int i = d->first; i <= d->last; i++) {
        if (!d->limb[i]) continue;
        int digit = (WHOLE_LIMBS - 1 - i) * LIMB_DIGITS + LIMB_DIGITS - 1;
        while (!digit_at(d, digit)) digit--;
        *top = digit;
        return true;
    }
    return false;
}

/* Half away from nought, decided on the exact digits; all below `digit` become nought. */
static void round_at(Decimal *d, int digit)
{
    bool up = digit_at(d, digit - 1) >= 5;
    int i = limb_of(digit);
    if (i >= LIMBS) return;
    d->limb[i] -= d->limb[i] % weight_of(digit);
    for (int k = i + 1; k <= d->last; k++) d->limb[k] = 0;
    if (i > d->last) d->last = i;
    if (i < d->first) d->first = i;
    if (!up) return;
    d->limb[i] += weight_of(digit);
    while (d->limb[i] >= LIMB) {
        d->limb[i] -= LIMB;
        d->limb[--i]++;
        if (i < d->first) d->first = i;
    }
}

static void put_digits(SgBuf *b, const Decimal *d, int from, int to)
{
    for (int digit = from; digit >= to; digit--) {
        if (digit == -1) sg_put_char(b, '.');
        sg_put_char(b, (char)('0' + digit_at(d, digit)));
    }
}

void sg_put_full(SgBuf *b, double x)
{
    Decimal d;
    int top = 0;
    if (!(x - x == 0)) {           /* no number: never asked for, and shown as such rather than as a value */
        sg_put_char(b, '?');
        return;
    }
    expand(x, &d);
    if (!top_digit(&d, &top)) {
        sg_put_char(b, '0');
        return;
    }
    round_at(&d, top - MOST_DIGITS + 1);
    top_digit(&d, &top);
    int low = top - MOST_DIGITS + 1;
    while (!digit_at(&d, low)) low++;
    if (d.minus) sg_put_char(b, '-');
    if (top >= PLAIN_BOTTOM && top <= PLAIN_TOP) {
        put_digits(b, &d, top > 0 ? top : 0, low < 0 ? low : 0);
        return;
    }
    sg_put_char(b, (char)('0' + digit_at(&d, top)));
    if (low < top) sg_put_char(b, '.');
    for (int digit = top - 1; digit >= low; digit--) sg_put_char(b, (char)('0' + digit_at(&d, digit)));
    sg_putf(b, "e%d", top);
}

void sg_put_fixed(SgBuf *b, double x, int decimals)
{
    Decimal d;
    int top = 0;
    if (!(x - x == 0)) {
        sg_put_char(b, '?');
        return;
    }
    if (decimals < 0) decimals = 0;
    expand(x, &d);
    round_at(&d, -decimals);
    bool something = top_digit(&d, &top);
    if (d.minus && something) sg_put_char(b, '-');
    put_digits(b, &d, something && top > 0 ? top : 0, -decimals);
}

void sg_put_mm3(SgBuf *b, double mm)
{
    double thousandths = floor(fabs(mm) * 1000.0 + 0.5);
    if (!(thousandths < 9e15)) {
        sg_put_full(b, mm);
        return;
    }
    char text[24];
    int at = (int)sizeof text;
    uint64_t rest = (uint64_t)thousandths, below = rest % 1000;
    if (mm < 0 && rest) sg_put_char(b, '-');
    rest /= 1000;
    if (below) {
        int digits = 3;
        while (below % 10 == 0) {
            below /= 10;
            digits--;
        }
        for (; digits > 0; digits--, below /= 10) text[--at] = (char)('0' + below % 10);
        text[--at] = '.';
    }
    do {
        text[--at] = (char)('0' + rest % 10);
        rest /= 10;
    } while (rest);
    sg_put(b, text + at, sizeof text - (size_t)at);
}

double sg_round_to(double x, double step)
{
    if (!(step > 0)) return x;
    double steps = floor(fabs(x) / step + 0.5 + 1e-7);
    if (steps == 0) return 0;
    return x < 0 ? -steps * step : steps * step;
}

static int hex_digit(char c)
{
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return -1;
}

bool sg_read_rgb(SgStr s, uint32_t *rgb)
{
    *rgb = 0;
    if (s.n != 7 || s.s[0] != '#') return false;
    for (int i = 1; i < 7; i++) {
        int digit = hex_digit(s.s[i]);
        if (digit < 0) return false;
        *rgb = *rgb * 16 + (uint32_t)digit;
    }
    return true;
}
