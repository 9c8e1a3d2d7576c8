// Light to screen: exposure, adaptation, highlight compression, late whitening, chroma into the gamut, transfer curve.
// Mirrors core/color/display.ts line by line; every number comes from there as a define or a uniform.
precision highp float;
precision highp sampler2D;

// Sum of XYZ over the samples that met the panel, and their number.
uniform sampler2D uSum;
// Samples taken of every pixel.
uniform float uTaken;
uniform vec2 uScale;
uniform float uSurround;
// Exposure and adaptation folded in: scene XYZ to linear Display-P3, to the screen's linear RGB, to cone responses.
uniform mat3 uToP3;
uniform mat3 uToRgb;
uniform mat3 uToCones;
uniform mat3 uConesToRgb;
uniform mat3 uRootsToOklab;
uniform mat3 uOklabToRoots;

layout(location = 0) out vec4 outColor;

float largest(vec3 v) {
  return max(v.r, max(v.g, v.b));
}

float smallest(vec3 v) {
  return min(v.r, min(v.g, v.b));
}

float tone(float m) {
  return 1.0 - (1.0 - KNEE) * (1.0 - KNEE) / (m + 1.0 - 2.0 * KNEE);
}

float whitening(float m) {
  float t = clamp((log2(m / KNEE) - WHITENING_START) / (WHITENING_END - WHITENING_START), 0.0, 1.0);
  return t * t * (3.0 - 2.0 * t);
}

vec3 cubeRoot(vec3 v) {
  return sign(v) * pow(abs(v), vec3(1.0 / 3.0));
}

bool inGamut(vec3 rgb) {
  return smallest(rgb) >= -GAMUT_SLACK && largest(rgb) <= 1.0 + GAMUT_SLACK;
}

vec3 toRgb(vec3 oklab) {
  vec3 roots = uOklabToRoots * oklab;
  return uConesToRgb * (roots * roots * roots);
}

vec3 reduceChroma(vec3 oklab) {
  oklab.x = min(oklab.x, 1.0);
  vec3 rgb = toRgb(oklab);
  if (!inGamut(rgb)) {
    float kept = 0.0;
    float size = 0.5;
    for (int i = 0; i < GAMUT_STEPS; i++, size *= 0.5)
      if (inGamut(toRgb(vec3(oklab.x, oklab.yz * (kept + size))))) kept += size;
    rgb = toRgb(vec3(oklab.x, oklab.yz * kept));
  }
  return clamp(rgb, 0.0, 1.0);
}

vec3 encode(vec3 linear) {
  vec3 low = CURVE_SLOPE * linear;
  vec3 high = (1.0 + CURVE_OFFSET) * pow(max(linear, vec3(CURVE_TOE)), vec3(1.0 / CURVE_GAMMA)) - CURVE_OFFSET;
  return mix(high, low, vec3(lessThanEqual(linear, vec3(CURVE_TOE))));
}

vec3 displayColor(vec3 xyz) {
  float peak = largest(uToP3 * xyz);
  float scale = peak > KNEE ? tone(peak) / peak : 1.0;
  float white = peak > KNEE ? whitening(peak) : 0.0;
  vec3 rgb = scale * (uToRgb * xyz);
  if (white > 0.0 || !inGamut(rgb)) {
    vec3 oklab = uRootsToOklab * cubeRoot(scale * (uToCones * xyz));
    rgb = reduceChroma(vec3(mix(oklab.x, 1.0, white), oklab.yz * (1.0 - white)));
  }
  return encode(clamp(rgb, 0.0, 1.0));
}

void main() {
  vec4 sum = texture(uSum, gl_FragCoord.xy * uScale);
  float seen = sum.a / uTaken;
  vec3 color = vec3(uSurround);
  if (sum.a > 0.0) color = mix(color, displayColor(sum.xyz / sum.a), min(seen, 1.0));
  outColor = vec4(color, 1.0);
}
