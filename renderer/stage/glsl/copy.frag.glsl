// A coarse picture over the whole target, straight from pixel to pixel.
uniform sampler2D uPicture;
uniform vec2 uScale;

layout(location = 0) out vec4 outColor;

void main() {
  outColor = texture(uPicture, gl_FragCoord.xy * uScale);
}
