import type { WebGLRenderer } from 'three'

/** Names of drivers that draw on the processor: there a moving picture has far fewer pixels. */
const softwareNames = /llvmpipe|softpipe|swiftshader|software|basic render/i

export function isSoftware(renderer: WebGLRenderer): boolean {
  const gl = renderer.getContext()
  const info = gl.getExtension('WEBGL_debug_renderer_info')
  return softwareNames.test(String(gl.getParameter(info ? info.UNMASKED_RENDERER_WEBGL : gl.RENDERER)))
}
