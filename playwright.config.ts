import { defineConfig } from '@playwright/test'
import { findBrowser } from './scripts/find/browser.mjs'
import { backend } from './tests/support/gl.ts'

const browser = findBrowser()

export default defineConfig({
  testDir: 'tests',
  outputDir: 'test-results',
  snapshotPathTemplate: 'tests/golden/{arg}{ext}',
  // A software renderer uses every core by itself.
  workers: 1,
  forbidOnly: Boolean(process.env.CI),
  // Generous: a software renderer on a busy machine takes its time; a hang is still found.
  timeout: 240_000,
  expect: { timeout: 20_000 },
  use: {
    viewport: { width: 1280, height: 800 },
    screenshot: 'only-on-failure',
    launchOptions: { ...(browser === null ? {} : { executablePath: browser }), args: [...backend.flags] },
  },
  projects: [
    { name: 'browser', testMatch: 'e2e/browser/**/*.spec.ts' },
    { name: 'gpu', testMatch: 'gpu/**/*.spec.ts' },
    { name: 'desktop', testMatch: 'e2e/desktop/**/*.spec.ts' },
  ],
})
