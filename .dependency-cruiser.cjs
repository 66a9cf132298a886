// Which folder may import which: an `allowed` list, so a new folder is forbidden until someone decides.
// The table is explained in DEVELOPERS.md.

/** Own folders that a folder may import, besides itself. */
const MAY_IMPORT = {
  'shared/base': [],
  'shared/limits': [],
  'shared/geometry': ['shared/base'],
  'shared/vision': ['shared/base', 'shared/geometry'],
  'shared/pattern': ['shared/base', 'shared/geometry'],
  'shared/checks': ['shared/base', 'shared/geometry', 'shared/pattern', 'shared/limits', 'shared/sizes', 'shared/fit'],
  'shared/alter': ['shared/base', 'shared/geometry', 'shared/pattern'],
  'shared/sizes': ['shared/base', 'shared/geometry', 'shared/pattern', 'shared/limits'],
  'shared/fit': ['shared/base', 'shared/geometry', 'shared/pattern', 'shared/limits'],
  'shared/formats': ['shared/base', 'shared/geometry', 'shared/pattern'],
  'shared/report': ['shared/base', 'shared/geometry', 'shared/pattern', 'shared/checks'],
  'shared/usecases': ['shared/(?!usecases|contract)[^/]+'],
  'shared/contract': ['shared/base'],
  'main/imaging': ['shared/[^/]+'],
  'main/files': ['shared/[^/]+'],
  'main/service': ['shared/[^/]+', 'main/imaging', 'main/files'],
  'main/electron': ['shared/[^/]+', 'main/service', 'main/files', 'main/imaging'],
  'main/loopback': ['shared/[^/]+', 'main/service'],
  'main/cli': ['shared/[^/]+', 'main/imaging', 'main/files', 'main/service', 'main/loopback'],
  renderer: ['shared/[^/]+'],
  tests: ['shared/[^/]+', 'main/[^/]+', 'renderer', 'assets'],
};

/** Packages that a folder of shared/ may use; everything else in shared/ uses none. */
const PACKAGES = {
  'shared/geometry': ['robust-predicates'],
  'shared/vision': ['ml-matrix', 'pdf-lib', 'clipper2-ts'],
  'shared/formats': ['zod', 'fflate', 'pdf-lib', 'svgpath', 'fast-xml-parser'],
  'shared/contract': ['zod'],
};

const inPackage = (name) => `node_modules/${name}/`;

module.exports = {
  forbidden: [
    {
      name: 'no-cycles',
      comment: 'A cycle means that two files have one reason to exist.',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    {
      name: 'electron-only-in-main-electron',
      comment: 'The desktop runtime is one carrier of the window; everything else must run without it.',
      severity: 'error',
      from: { pathNot: '^(main/electron|tests)/' },
      to: { path: 'node_modules/electron/' },
    },
    {
      name: 'wasm-only-in-its-wrapper',
      comment: 'Matrices of the wasm library have one owner that frees them; main loads it and hands it in.',
      severity: 'error',
      from: { pathNot: '^(shared/vision/opencv|main/imaging|tests)/' },
      to: { path: 'node_modules/opencv-wasm/' },
    },
    {
      name: 'paper-only-in-canvas',
      comment: 'The canvas draws and never measures.',
      severity: 'error',
      from: { pathNot: '^(renderer/canvas|tests)/' },
      to: { path: 'node_modules/paper/' },
    },
    {
      name: 'formats-stand-alone',
      comment: 'A format never imports another; use cases put them together.',
      severity: 'error',
      from: { path: '^shared/formats/([^/]+)/' },
      to: { path: '^shared/formats/', pathNot: '^shared/formats/$1/' },
    },
    {
      name: 'rules-stand-alone',
      comment: 'A rule never imports another rule.',
      severity: 'error',
      from: { path: '^shared/checks/rules/' },
      to: { path: '^shared/checks/rules/' },
    },
  ],
  allowed: [
    ...Object.entries(MAY_IMPORT).map(([folder, targets]) => ({
      from: { path: `^${folder}/` },
      to: { path: [`^${folder}/`, ...targets.map((target) => `^${target}/`)] },
    })),
    ...Object.entries(PACKAGES).map(([folder, names]) => ({
      from: { path: `^${folder}/` },
      to: { path: names.map(inPackage) },
    })),
    { from: { path: '^main/' }, to: { dependencyTypes: ['core', 'npm', 'npm-dev'] } },
    { from: { path: '^main/electron/' }, to: { path: 'node_modules/electron/' } },
    { from: { path: '^main/' }, to: { path: '^(package\\.json|assets/)' } },
    { from: { path: '^renderer/' }, to: { path: [inPackage('preact'), inPackage('paper'), inPackage('@preact')] } },
    { from: { path: '^tests/' }, to: { dependencyTypes: ['core', 'npm', 'npm-dev'] } },
    { from: { path: '^[^/]+$' }, to: {} },
  ],
  allowedSeverity: 'error',
  options: {
    doNotFollow: { path: 'node_modules' },
    exclude: { path: '^(dist|out|\\.cache)/' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.base.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'require', 'node', 'default', 'types'],
    },
  },
};
