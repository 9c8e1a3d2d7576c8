// A finished picture as the bytes of its planes, one after another from the top: Y, then U and V of every four pixels
// (BT.709, narrow range: Rec. ITU-R BT.709-6, 3.2 to 3.5). Four bytes a texel, so that little comes back from the card.
uniform sampler2D uPicture;
uniform ivec2 uSize;
// Texels a row of the target.
uniform int uAcross;

layout(location = 0) out vec4 outBytes;

const vec3 LUMA = vec3(0.2126, 0.7152, 0.0722);

// Pixels are counted from the top; the last stands for those beyond an odd side.
vec3 colorAt(int x, int y) {
  ivec2 at = clamp(ivec2(x, y), ivec2(0), uSize - 1);
  return texelFetch(uPicture, ivec2(at.x, uSize.y - 1 - at.y), 0).rgb;
}

float byteAt(int at) {
  int whole = uSize.x * uSize.y;
  if (at < whole) return (16.0 + 219.0 * dot(LUMA, colorAt(at % uSize.x, at / uSize.x))) / 255.0;
  ivec2 halved = (uSize + 1) / 2;
  int plane = halved.x * halved.y;
  int rest = at - whole;
  bool red = rest >= plane;
  if (red) rest -= plane;
  if (rest >= plane) return 0.0;
  int x = 2 * (rest % halved.x);
  int y = 2 * (rest / halved.x);
  // Decoders take these to lie on every other column, between two rows.
  vec3 mean = 0.125 * (colorAt(x - 1, y) + colorAt(x - 1, y + 1) + colorAt(x + 1, y) + colorAt(x + 1, y + 1))
    + 0.25 * (colorAt(x, y) + colorAt(x, y + 1));
  float luma = dot(LUMA, mean);
  float difference = red ? (mean.r - luma) / 1.5748 : (mean.b - luma) / 1.8556;
  return (128.0 + 224.0 * difference) / 255.0;
}

void main() {
  ivec2 texel = ivec2(gl_FragCoord.xy);
  int first = 4 * (texel.y * uAcross + texel.x);
  outBytes = vec4(byteAt(first), byteAt(first + 1), byteAt(first + 2), byteAt(first + 3));
}
