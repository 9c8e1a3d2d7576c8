// The inks of a place as the tables see them: core/reference/shade-print.ts.
// No ink at all.
bool clearPrint;
// One more than the last primary with any area; none counts where the print is clear.
int usedPrimaries;
// Order 0 of a plain mirror at both slants.
vec3 plainFirst;
vec3 plainSecond;

// Area of a primary when the dots of the four inks fall at random.
float areaOf(int primary) {
  vec4 on = vec4((ivec4(primary) >> ivec4(0, 1, 2, 3)) & 1);
  vec4 part = mix(1.0 - site.inks, site.inks, on);
  return part.x * part.y * part.z * part.w;
}

// The four areas of primaries 4k to 4k + 3.
vec4 areasOf(int k) {
  vec4 c = site.inks;
  float above = ((k & 1) == 1 ? c.z : 1.0 - c.z) * ((k & 2) == 2 ? c.w : 1.0 - c.w);
  return above * vec4((1.0 - c.x) * (1.0 - c.y), c.x * (1.0 - c.y), (1.0 - c.x) * c.y, c.x * c.y);
}

// First row of the order-0 table for the spectrum in use.
int zeroRow() {
  return lightSet * GROOVES * 2 * PRIMARIES;
}

void preparePrint() {
  vec4 c = site.inks;
  clearPrint = c == vec4(0.0) && site.spots == vec4(0.0);
  usedPrimaries = clearPrint ? 0 : c.w > 0.0 ? 16 : c.z > 0.0 ? 8 : c.y > 0.0 ? 4 : 2;
  // Row 0 is clear in any groove.
  plainFirst = texelFetch(uOrderZero, ivec2(0, zeroRow()), 0).rgb;
  plainSecond = plainFirst;
  if (!clearPrint) {
    plainFirst = vec3(0.0);
    plainSecond = vec3(0.0);
  }
  for (int p = 0; p < usedPrimaries; p++) {
    float area = areaOf(p);
    plainFirst += area * texelFetch(uOrderZero, ivec2(0, zeroRow() + p), 0).rgb;
    plainSecond += area * texelFetch(uOrderZero, ivec2(0, zeroRow() + PRIMARIES + p), 0).rgb;
  }
}

// Σ w (Σ a t)² over the nodes by X, Y, Z, each node through the spot inks as well.
vec3 scatteredFactor(bool wanted) {
  vec3 sum = vec3(0.0);
  int parts = wanted && !clearPrint ? INK_NODES / 4 : 0;
  for (int part = 0; part < parts; part++) {
    vec4 t = vec4(0.0);
    for (int p = 0; p < usedPrimaries; p++) t += areaOf(p) * texelFetch(uInkNodes, ivec2(p, part), 0);
#if SPOTS > 0
    for (int i = 0; i < SPOTS; i++)
      t *= 1.0 - site.spots[i] + site.spots[i] * texelFetch(uSpotNodes, ivec2(i, part), 0);
#endif
    for (int n = 0; n < 4; n++) sum += texelFetch(uNodeWeights, ivec2(4 * part + n, lightSet), 0).rgb * t[n] * t[n];
  }
  return clearPrint ? vec3(1.0) : max(sum, vec3(0.0));
}

vec3 spotFactor() {
  vec3 factor = vec3(1.0);
#if SPOTS > 0
  for (int i = 0; i < SPOTS; i++)
    factor *= 1.0 - site.spots[i] + site.spots[i] * texelFetch(uSpotColor, ivec2(i, lightSet), 0).rgb;
#endif
  return factor;
}

// Straight path `offset` nanometres into the spectrum, at both slants.
vec2 inkAt(float offset) {
  float node = offset / INK_STEP;
  int n = min(int(node), INK_COLUMNS - 2);
  // At the two nodes around, first and second slant: left first, left second, right first, right second.
  vec4 path = vec4(0.0);
  for (int k = 0; 4 * k < usedPrimaries; k++) {
    vec4 area = areasOf(k);
    path += vec4(
      dot(area, texelFetch(uInkPath, ivec2(n, k), 0)),
      dot(area, texelFetch(uInkPath, ivec2(n, PRIMARIES / 4 + k), 0)),
      dot(area, texelFetch(uInkPath, ivec2(n + 1, k), 0)),
      dot(area, texelFetch(uInkPath, ivec2(n + 1, PRIMARIES / 4 + k), 0))
    );
  }
#if SPOTS > 0
  vec4 first[2] = vec4[2](texelFetch(uSpotPath, ivec2(n, 0), 0), texelFetch(uSpotPath, ivec2(n + 1, 0), 0));
  vec4 second[2] = vec4[2](texelFetch(uSpotPath, ivec2(n, 1), 0), texelFetch(uSpotPath, ivec2(n + 1, 1), 0));
  for (int i = 0; i < SPOTS; i++)
    path *= 1.0 - site.spots[i] + site.spots[i] * vec4(first[0][i], second[0][i], first[1][i], second[1][i]);
#endif
  return mix(path.xy, path.zw, node - float(n));
}

// The same, x between and beyond the slants.
float inkAlong(float offset, float x) {
  vec2 along = inkAt(offset);
  return betweenSlants(along.xxx, along.yyy, x).x;
}

// Order 0 of a grating, through the inks; its cap at one wavelength. q = q_l + q_v
vec3 orderZero(Grating grating, float q, float x) {
  float at = min(grating.depth * q * (float(DEPTH_COLUMNS - 1) / MAX_OPTICAL_DEPTH), float(DEPTH_COLUMNS - 1));
  int row = zeroRow() + grating.groove * 2 * PRIMARIES;
  float held = 1.0 / cap(grating, CAP_WAVELENGTH);
  if (clearPrint) return held * between(uOrderZero, at, row).rgb;
  vec3 first = vec3(0.0);
  vec3 second = vec3(0.0);
  for (int p = 0; p < usedPrimaries; p++) {
    float area = areaOf(p);
    first += area * between(uOrderZero, at, row + p).rgb;
    second += area * between(uOrderZero, at, row + PRIMARIES + p).rgb;
  }
  return held * spotFactor() * betweenSlants(first, second, x);
}

// A mirror without grooves, through the inks.
vec3 plainMirror(float x) {
  return clearPrint ? plainFirst : spotFactor() * betweenSlants(plainFirst, plainSecond, x);
}
