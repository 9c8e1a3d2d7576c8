// Light to screen: exposure, adaptation, highlights compressed in luminance, chroma into the gamut, transfer curve.
// Mirrors core/color/display.ts and over-screen.ts line by line; every number comes from there as a define or a uniform.
// Pixels of the target a CSS pixel where the overlay is on, else 0.
uniform float uOverlay;
// Exposure and adaptation folded in: scene XYZ to the judged parts, to the screen's linear RGB, to cone
// responses.
uniform mat3 uToJudged;
uniform mat3 uToRgb;
uniform mat3 uToCones;
uniform mat3 uConesToRgb;
uniform mat3 uRootsToOklab;
uniform mat3 uOklabToRoots;
uniform vec3 uConesToLuminance;

float largest(vec3 v) {
  return max(v.r, max(v.g, v.b));
}

float smallest(vec3 v) {
  return min(v.r, min(v.g, v.b));
}

float tone(float m) {
  return m <= KNEE ? m : CEILING - (CEILING - KNEE) * (CEILING - KNEE) / (m + CEILING - 2.0 * KNEE);
}

float lift(float blue) {
  float part = 1.0 - KNEE / max(blue, KNEE);
  return part * part;
}

float judgedLuminance(vec3 judged) {
  return JUDGED_RED * judged.r + JUDGED_GREEN * judged.g;
}

float shownLuminance(vec3 judged) {
  float peak = max(judged.r, judged.g);
  float scale = peak > KNEE ? tone(peak) / peak : 1.0;
  float red = judged.r > 0.0 ? tone(judged.r) : judged.r * scale;
  float green = judged.g > 0.0 ? tone(judged.g) : judged.g * scale;
  return max(0.0, judgedLuminance(vec3(red, green, 0.0)) + (1.0 - CEILING) * lift(judged.b));
}

vec3 cubeRoot(vec3 v) {
  return sign(v) * pow(abs(v), vec3(1.0 / 3.0));
}

bool inGamut(vec3 rgb, float slack) {
  return smallest(rgb) >= -slack && largest(rgb) <= 1.0 + slack;
}

// The roots of the cones go straight with the chroma from those of the grey, so the linear colour over its own luminance
// is a cubic over a cubic: found once, looked at step by step.
vec3 reduceChroma(vec3 oklab, float luminance) {
  vec3 grey = uOklabToRoots[0] * oklab.x;
  vec3 chroma = uOklabToRoots * vec3(0.0, oklab.yz);
  mat4x3 cones = mat4x3(grey * grey * grey, 3.0 * grey * grey * chroma, 3.0 * grey * chroma * chroma, chroma * chroma * chroma);
  mat4x3 rgb = luminance * uConesToRgb * cones;
  vec4 own = uConesToLuminance * cones;
  float kept = 0.0;
  float size = 0.5;
  for (int i = 0; i < GAMUT_STEPS; i++, size *= 0.5) {
    float k = kept + size;
    vec4 powers = vec4(1.0, k, k * k, k * k * k);
    vec3 color = rgb * powers;
    float whole = dot(own, powers);
    if (smallest(color) >= -GAMUT_SLACK * whole && largest(color) <= (1.0 + GAMUT_SLACK) * whole) kept = k;
  }
  vec4 powers = vec4(1.0, kept, kept * kept, kept * kept * kept);
  return clamp(rgb * powers / dot(own, powers), 0.0, 1.0);
}

vec3 encode(vec3 linear) {
  vec3 low = CURVE_SLOPE * linear;
  vec3 high = (1.0 + CURVE_OFFSET) * pow(max(linear, vec3(CURVE_TOE)), vec3(1.0 / CURVE_GAMMA)) - CURVE_OFFSET;
  return mix(high, low, vec3(lessThanEqual(linear, vec3(CURVE_TOE))));
}

// Which band of the overlay a light is in: 0 the screen shows it, 1 to 4 brighter and brighter, 5 only too pure.
int overBand(float own, vec3 rgb) {
  if (own > 1.0) {
    float stops = log2(own / KNEE);
    return stops > FOURTH_BAND ? 4 : stops > THIRD_BAND ? 3 : stops > SECOND_BAND ? 2 : 1;
  }
  return inGamut(rgb, PURENESS_SLACK) ? 0 : 5;
}

// Hatching by screen place alone, so that it stands still while the light moves: wide lines, lines, crossed lines,
// a chequer; upright lines for pure colours.
bool marked(int band) {
  vec2 at = floor(gl_FragCoord.xy / uOverlay);
  float up = mod(at.x + at.y, band == 1 ? 12.0 : 6.0);
  float down = mod(at.x - at.y, 6.0);
  if (band == 4) return mod(floor(at.x / 3.0) + floor(at.y / 3.0), 2.0) < 1.0;
  if (band == 5) return mod(at.x, 6.0) < 1.0;
  return up < 1.5 || (band == 3 && down < 1.5);
}

vec3 displayColor(vec3 xyz) {
  vec3 judged = uToJudged * xyz;
  float luminance = shownLuminance(judged);
  float whole = judgedLuminance(judged);
  if (!(luminance > 0.0 && whole > 0.0)) return vec3(0.0);
  vec3 own = luminance / whole * (uToRgb * xyz);
  vec3 rgb = own;
  if (!inGamut(rgb, GAMUT_SLACK)) rgb = reduceChroma(uRootsToOklab * cubeRoot(uToCones * xyz), luminance);
  vec3 code = encode(clamp(rgb, 0.0, 1.0));
  if (uOverlay > 0.0) {
    int band = overBand(whole, own);
    if (band > 0 && marked(band)) return vec3(luminance > 0.25 ? 0.0 : 1.0);
  }
  return code;
}
