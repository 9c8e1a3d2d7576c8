import { chmodSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { findBrowser } from '../../scripts/find/browser.mjs'
import { findDesktop, hasDisplay } from '../../scripts/find/desktop.mjs'

let folder: string

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'rakelight-find-'))
  for (const name of ['CHROME', 'CHROME_PATH', 'CHROME_BIN', 'CHROMIUM_PATH']) vi.stubEnv(name, '')
})

afterEach(() => {
  vi.unstubAllEnvs()
  rmSync(folder, { recursive: true, force: true })
})

function program(name: string): string {
  const path = join(folder, name)
  writeFileSync(path, '#!/bin/sh\n')
  chmodSync(path, 0o755)
  return path
}

describe('the desktop runtime', () => {
  it('is the one that the variable names', () => {
    const path = program('electron')
    vi.stubEnv('ELECTRON_OVERRIDE_DIST_PATH', folder)
    expect(findDesktop(folder)).toBe(path)
  })

  it('is missed loudly where the variable names a folder without one', () => {
    vi.stubEnv('ELECTRON_OVERRIDE_DIST_PATH', folder)
    expect(() => findDesktop(folder)).toThrow(
      `ELECTRON_OVERRIDE_DIST_PATH: expected the desktop runtime in ${folder}`,
    )
  })

  it('is none where nothing is installed', () => {
    vi.stubEnv('ELECTRON_OVERRIDE_DIST_PATH', '')
    expect(findDesktop(folder)).toBeNull()
  })
})

describe('a display', () => {
  it.runIf(process.platform === 'linux')('is there when the session names one', () => {
    vi.stubEnv('DISPLAY', '')
    vi.stubEnv('WAYLAND_DISPLAY', '')
    expect(hasDisplay()).toBe(false)
    vi.stubEnv('WAYLAND_DISPLAY', 'wayland-0')
    expect(hasDisplay()).toBe(true)
  })
})

describe('a browser', () => {
  it('is the one that CHROME names, before any other', () => {
    const path = program('my-browser')
    program('chromium')
    vi.stubEnv('PATH', folder)
    vi.stubEnv('CHROME', path)
    expect(findBrowser()).toBe(path)
  })

  it('is missed loudly where CHROME names no program', () => {
    vi.stubEnv('CHROME', join(folder, 'gone'))
    expect(() => findBrowser()).toThrow('CHROME: expected a browser')
    vi.stubEnv('CHROME', folder)
    expect(() => findBrowser()).toThrow('CHROME: expected a browser')
  })

  it('is found by its usual names on the path', () => {
    const path = program('chromium-browser')
    vi.stubEnv('PATH', folder)
    expect(findBrowser()).toBe(path)
  })
})
