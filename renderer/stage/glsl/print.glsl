// The inks of a place as the tables see them: core/reference/shade-print.ts.
// Areas of the 16 primaries, primary 4k + c in component c of the k-th.
vec4 areas[PRIMARIES / 4];
// No ink at all.
bool clearPrint;

void preparePrint() {
  vec4 c = site.inks;
  clearPrint = c == vec4(0.0) && site.spots == vec4(0.0);
  vec4 cm = vec4((1.0 - c.x) * (1.0 - c.y), c.x * (1.0 - c.y), (1.0 - c.x) * c.y, c.x * c.y);
  areas[0] = cm * (1.0 - c.z) * (1.0 - c.w);
  areas[1] = cm * c.z * (1.0 - c.w);
  areas[2] = cm * (1.0 - c.z) * c.w;
  areas[3] = cm * c.z * c.w;
}

// Σ w (Σ a t)² over the nodes by X, Y, Z, each node through the spot inks as well.
vec3 scatteredFactor() {
  if (clearPrint) return vec3(1.0);
  vec3 sum = vec3(0.0);
  for (int half4 = 0; half4 < INK_NODES / 4; half4++) {
    vec4 t = vec4(0.0);
    for (int p = 0; p < PRIMARIES; p++) {
      float area = areas[p >> 2][p & 3];
      if (area > 0.0) t += area * texelFetch(uInkNodes, ivec2(p, half4), 0);
    }
#if SPOTS > 0
    for (int i = 0; i < SPOTS; i++)
      t *= 1.0 - site.spots[i] + site.spots[i] * texelFetch(uSpotNodes, ivec2(i, half4), 0);
#endif
    for (int n = 0; n < 4; n++) sum += texelFetch(uNodeWeights, ivec2(4 * half4 + n, 0), 0).rgb * t[n] * t[n];
  }
  return max(sum, vec3(0.0));
}

vec3 spotFactor() {
  vec3 factor = vec3(1.0);
#if SPOTS > 0
  for (int i = 0; i < SPOTS; i++)
    factor *= 1.0 - site.spots[i] + site.spots[i] * texelFetch(uSpotColor, ivec2(i, 0), 0).rgb;
#endif
  return factor;
}

// Straight path at one node of the ink spectra and one slant.
float pathAt(int node, int slant) {
  float sum = 0.0;
  for (int k = 0; k < PRIMARIES / 4; k++)
    if (areas[k] != vec4(0.0))
      sum += dot(areas[k], texelFetch(uInkPath, ivec2(node, slant * (PRIMARIES / 4) + k), 0));
#if SPOTS > 0
  vec4 t = texelFetch(uSpotPath, ivec2(node, slant), 0);
  for (int i = 0; i < SPOTS; i++) sum *= 1.0 - site.spots[i] + site.spots[i] * t[i];
#endif
  return sum;
}

// Straight path `offset` nanometres into the spectrum, x between and beyond the slants.
float inkAlong(float offset, float x) {
  float node = offset / INK_STEP;
  int n = min(int(node), INK_COLUMNS - 2);
  float r = node - float(n);
  float f0 = mix(pathAt(n, 0), pathAt(n + 1, 0), r);
  float f1 = mix(pathAt(n, 1), pathAt(n + 1, 1), r);
  return betweenSlants(vec3(f0), vec3(f1), x).x;
}

// Order 0 by optical depth H (q_l + q_v), through the inks.
vec3 orderZero(int shape, float opticalDepth, float x) {
  float at = min(opticalDepth * (float(DEPTH_COLUMNS - 1) / MAX_OPTICAL_DEPTH), float(DEPTH_COLUMNS - 1));
  int first = shape * 2 * PRIMARIES;
  if (clearPrint) return between(uOrderZero, at, first).rgb;
  vec3 f0 = vec3(0.0);
  vec3 f1 = vec3(0.0);
  for (int p = 0; p < PRIMARIES; p++) {
    float area = areas[p >> 2][p & 3];
    if (area <= 0.0) continue;
    f0 += area * between(uOrderZero, at, first + p).rgb;
    f1 += area * between(uOrderZero, at, first + PRIMARIES + p).rgb;
  }
  return spotFactor() * betweenSlants(f0, f1, x);
}

// A mirror without grooves, through the inks.
vec3 plainMirror(float x) {
  return orderZero(0, 0.0, x);
}
