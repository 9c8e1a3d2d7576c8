// The mean of the samples on the screen; a pixel at the panel's edge is mixed with the background.
// Sum of XYZ over the samples that met the panel, and their number.
uniform sampler2D uSum;
// Samples taken of every pixel.
uniform float uTaken;
uniform vec2 uScale;
// Code values of the background; alpha 0 where there is none: then the picture's own is the part of a pixel that it covers.
uniform vec4 uAround;

layout(location = 0) out vec4 outColor;

void main() {
  vec4 sum = texture(uSum, gl_FragCoord.xy * uScale);
  float seen = sum.a > 0.0 ? min(sum.a / uTaken, 1.0) : 0.0;
  vec3 color = uAround.rgb;
  if (sum.a > 0.0) color = mix(color, displayColor(sum.xyz / sum.a), uAround.a > 0.0 ? seen : 1.0);
  outColor = vec4(color, uAround.a > 0.0 ? 1.0 : seen);
}
