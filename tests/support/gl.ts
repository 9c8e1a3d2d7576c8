import { existsSync } from 'node:fs'

/**
 * The software renderers that browser and desktop tests draw with. The same one gives the same pixels in every
 * run; two differ by up to some per cent of noisy pixels, so golden pictures belong to one of them.
 */
export interface Backend {
  readonly name: 'llvmpipe' | 'swiftshader'
  readonly flags: readonly string[]
}

const mesa = ['/usr/lib/x86_64-linux-gnu', '/usr/lib/aarch64-linux-gnu', '/usr/lib64', '/usr/lib']

/** Mesa's where it is installed, being some five times faster; else the one inside the browser. */
export const backend: Backend = mesa.some(folder => existsSync(`${folder}/libEGL_mesa.so.0`))
  ? { name: 'llvmpipe', flags: ['--use-gl=angle', '--use-angle=gl-egl', '--ignore-gpu-blocklist'] }
  : {
      name: 'swiftshader',
      flags: ['--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader'],
    }

/** The one that golden pictures were drawn with; a test of golden pixels is skipped, by name, on another. */
export const goldenBackend: Backend['name'] = 'llvmpipe'
