// The mean of the samples on the screen; a pixel at the panel's edge is mixed with the surround.
// Sum of XYZ over the samples that met the panel, and their number.
uniform sampler2D uSum;
// Samples taken of every pixel.
uniform float uTaken;
uniform vec2 uScale;
uniform float uSurround;

layout(location = 0) out vec4 outColor;

void main() {
  vec4 sum = texture(uSum, gl_FragCoord.xy * uScale);
  float seen = sum.a / uTaken;
  vec3 color = vec3(uSurround);
  if (sum.a > 0.0) color = mix(color, displayColor(sum.xyz / sum.a), min(seen, 1.0));
  outColor = vec4(color, 1.0);
}
