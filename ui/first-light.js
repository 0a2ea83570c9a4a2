// Sets the light before the first pixel, so that no screen starts white in the dark: while nothing is known, Lamp.
// It never talks to the backend. Invariant: it is the first script of the page and small.

(() => {
  const night = Number(localStorage.getItem('lamp-until') ?? 0) > Date.now();
  const light = night ? 'lamp' : localStorage.getItem('light') ?? 'lamp';
  document.documentElement.dataset.light = light;
  document.documentElement.dataset.amber = localStorage.getItem('lamp-amber') === 'on' ? 'on' : 'off';
  const scheme = document.querySelector('meta[name="color-scheme"]');
  if (light !== 'system') scheme?.setAttribute('content', light === 'lamp' ? 'dark' : 'light');
})();
