// The inks of a place as the tables see them: core/reference/shade-print.ts.
#if OVERLAY == 1
// Inks of two crossings: each of these is asked of both, below.
#define SCATTERED_FACTOR scatteredOnce
#define INK_AT inkOnce
#define ORDER_ZERO orderZeroOnce
#define PLAIN_MIRROR plainMirrorOnce
// Of the crossing in use alone, where clearPrint is of both.
#define CLEAR_HERE (usedPrimaries == 0)
#else
#define SCATTERED_FACTOR scatteredFactor
#define INK_AT inkAt
#define ORDER_ZERO orderZero
#define PLAIN_MIRROR plainMirror
#define CLEAR_HERE clearPrint
#endif
// No ink at all.
bool blankPrint;
// Nothing that changes straight light: no ink over clear metal.
bool clearPrint;
// One more than the last primary with any area; none counts where the print is clear.
int usedPrimaries;
// Tones of the process inks as they print on foil.
vec4 foilTones;

// Area of a primary when the dots of the four inks fall at random.
float areaOf(int primary, vec4 tones) {
  vec4 on = vec4((ivec4(primary) >> ivec4(0, 1, 2, 3)) & 1);
  vec4 part = mix(1.0 - tones, tones, on);
  return part.x * part.y * part.z * part.w;
}

// First row of the order-0 table for the spectrum in use.
int zeroRow() {
  return lightSet * GROOVES * 2 * PRIMARIES;
}

void preparePrint() {
  vec4 c = site.inks;
  foilTones = c;
#if TONE_GAIN == 1
  // A tone of 0 stays 0 exactly, so that the primaries above it need not be looked at.
  foilTones = mix(1.0 - pow(1.0 - c, uToneExponents), vec4(0.0), vec4(equal(c, vec4(0.0))));
#endif
  blankPrint = c == vec4(0.0) && site.spots == vec4(0.0);
  clearPrint = blankPrint && TINTED == 0;
  usedPrimaries = clearPrint ? 0 : c.w > 0.0 ? 16 : c.z > 0.0 ? 8 : c.y > 0.0 ? 4 : blankPrint ? 1 : 2;
}

// Light through process and spot inks over light through the process inks alone: Σ w (Σ a t)² over the nodes.
vec3 throughSpots() {
  vec3 through = vec3(1.0);
#if SPOTS > 0
  vec3 bare = vec3(0.0);
  vec3 sum = vec3(0.0);
  int row = lightSet * SPOT_NODE_ROWS;
  int parts = site.spots == vec4(0.0) ? 0 : INK_NODES / 4;
  for (int part = 0; part < parts; part++) {
    vec4 t = vec4(0.0);
    for (int p = 0; p < usedPrimaries; p++)
      t += areaOf(p, site.inks) * texelFetch(uSpotNodes, ivec2(p, row + part), 0);
    vec4 spot = vec4(1.0);
    for (int i = 0; i < SPOTS; i++)
      spot *= 1.0 - site.spots[i] + site.spots[i] * texelFetch(uSpotNodes, ivec2(i, row + 2 + part), 0);
    for (int n = 0; n < 4; n++) {
      vec3 weight = texelFetch(uSpotNodes, ivec2(4 * part + n, row + 4), 0).rgb * t[n] * t[n];
      bare += weight;
      sum += weight * spot[n] * spot[n];
    }
  }
  if (parts > 0) through = max(sum / bare, vec3(0.0));
#endif
  return through;
}

// Factor of the inks on scattered light: print on paper, straight lines in all four inks between roots, and spot inks.
vec3 SCATTERED_FACTOR(bool wanted) {
  if (blankPrint) return vec3(1.0);
  vec4 at = site.inks * float(PRINT_NODES - 1);
  ivec4 node = min(ivec4(at), PRINT_NODES - 2);
  vec4 part = at - vec4(node);
  ivec2 first = ivec2(node.x, lightSet * PRINT_NODES * PRINT_NODES + node.z) + PRINT_NODES * node.yw;
  vec3 root = vec3(0.0);
  int corners = wanted ? 4 : 0;
  for (int corner = 0; corner < corners; corner++) {
    ivec2 on = ivec2(corner & 1, corner >> 1);
    float weight = (on.x == 1 ? part.z : 1.0 - part.z) * (on.y == 1 ? part.w : 1.0 - part.w);
    ivec2 texel = first + ivec2(0, on.x + PRINT_NODES * on.y);
    vec3 low = mix(texelFetch(uPrint, texel, 0).rgb, texelFetch(uPrint, texel + ivec2(1, 0), 0).rgb, part.x);
    texel.x += PRINT_NODES;
    vec3 high = mix(texelFetch(uPrint, texel, 0).rgb, texelFetch(uPrint, texel + ivec2(1, 0), 0).rgb, part.x);
    root += weight * mix(low, high, part.y);
  }
  return max(root * root - FACTOR_SHELF, vec3(0.0)) * throughSpots();
}

vec3 spotFactor() {
  vec3 factor = vec3(1.0);
#if SPOTS > 0
  for (int i = 0; i < SPOTS; i++)
    factor *= 1.0 - site.spots[i] + site.spots[i] * texelFetch(uSpotColor, ivec2(i, lightSet), 0).rgb;
#endif
  return factor;
}

// Straight path `offset` nanometres into the spectrum, at both slants. The table has a column for every nanometre and the
// nearest is taken; all texels are asked for at once, because a graphics card waits for the last and not for the sum.
vec2 INK_AT(float offset) {
  int n = int(offset + 0.5);
  vec4 c = foilTones;
  vec4 area = vec4((1.0 - c.x) * (1.0 - c.y), c.x * (1.0 - c.y), (1.0 - c.x) * c.y, c.x * c.y);
  vec4 first = texelFetch(uInkPath, ivec2(n, 0), 0);
  vec4 second = texelFetch(uInkPath, ivec2(n, 4), 0);
  if (usedPrimaries > 4) {
    vec4 yellow = texelFetch(uInkPath, ivec2(n, 1), 0);
    vec4 black = texelFetch(uInkPath, ivec2(n, 2), 0);
    vec4 both = texelFetch(uInkPath, ivec2(n, 3), 0);
    first = mix(mix(first, yellow, c.z), mix(black, both, c.z), c.w);
    yellow = texelFetch(uInkPath, ivec2(n, 5), 0);
    black = texelFetch(uInkPath, ivec2(n, 6), 0);
    both = texelFetch(uInkPath, ivec2(n, 7), 0);
    second = mix(mix(second, yellow, c.z), mix(black, both, c.z), c.w);
  }
  vec2 path = vec2(dot(area, first), dot(area, second));
#if SPOTS > 0
  first = texelFetch(uSpotPath, ivec2(n, 0), 0);
  second = texelFetch(uSpotPath, ivec2(n, 1), 0);
  for (int i = 0; i < SPOTS; i++)
    path *= 1.0 - site.spots[i] + site.spots[i] * vec2(first[i], second[i]);
#endif
  return path;
}

// Order 0 of a grating, through the inks; its cap at a wavelength for each of X, Y, Z. q = q_l + q_v
vec3 ORDER_ZERO(Grating grating, float q, float x) {
  float at = min(grating.depth * q * (float(DEPTH_COLUMNS - 1) / MAX_OPTICAL_DEPTH), float(DEPTH_COLUMNS - 1));
  int row = zeroRow() + grating.groove * 2 * PRIMARIES;
  vec3 held = 1.0 / vec3(cap(grating, CAP_WAVELENGTHS.x), cap(grating, CAP_WAVELENGTHS.y), cap(grating, CAP_WAVELENGTHS.z));
  if (CLEAR_HERE) return held * between(uOrderZero, DEPTH_COLUMNS, at, row).rgb;
  vec3 first = vec3(0.0);
  vec3 second = vec3(0.0);
  for (int p = 0; p < usedPrimaries; p++) {
    float area = areaOf(p, foilTones);
    first += area * between(uOrderZero, DEPTH_COLUMNS, at, row + p).rgb;
    second += area * between(uOrderZero, DEPTH_COLUMNS, at, row + PRIMARIES + p).rgb;
  }
  return held * spotFactor() * betweenSlants(first, second, x);
}

// A mirror without grooves, through the inks. Row 0 is clear in any groove.
vec3 PLAIN_MIRROR(float x) {
  int row = zeroRow();
  if (CLEAR_HERE) return texelFetch(uOrderZero, ivec2(0, row), 0).rgb;
  vec3 first = vec3(0.0);
  vec3 second = vec3(0.0);
  for (int p = 0; p < usedPrimaries; p++) {
    float area = areaOf(p, foilTones);
    first += area * texelFetch(uOrderZero, ivec2(0, row + p), 0).rgb;
    second += area * texelFetch(uOrderZero, ivec2(0, row + PRIMARIES + p), 0).rgb;
  }
  return spotFactor() * betweenSlants(first, second, x);
}

#if OVERLAY == 1
// Puts the inks of the other crossing in use.
void swapPrints() {
  vec4 inks = site.inks;
  vec4 spots = site.spots;
  bool clear = clearPrint;
  site.inks = farInks;
  site.spots = farSpots;
  farInks = inks;
  farSpots = spots;
  preparePrint();
  clearPrint = clear;
}

vec3 scatteredFactor(bool wanted) {
  vec3 near = scatteredOnce(wanted);
  if (!printsApart) return near;
  swapPrints();
  vec3 far = scatteredOnce(wanted);
  swapPrints();
  return sqrt(near * far);
}

vec2 inkAt(float offset) {
  vec2 near = inkOnce(offset);
  if (!printsApart) return near;
  swapPrints();
  vec2 far = inkOnce(offset);
  swapPrints();
  return sqrt(near * far);
}

vec3 orderZero(Grating grating, float q, float x) {
  vec3 near = orderZeroOnce(grating, q, x);
  if (!printsApart) return near;
  swapPrints();
  vec3 far = orderZeroOnce(grating, q, x);
  swapPrints();
  return sqrt(max(vec3(0.0), near * far));
}

vec3 plainMirror(float x) {
  vec3 near = plainMirrorOnce(x);
  if (!printsApart) return near;
  swapPrints();
  vec3 far = plainMirrorOnce(x);
  swapPrints();
  return sqrt(max(vec3(0.0), near * far));
}
#endif
