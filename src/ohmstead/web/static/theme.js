// Light or dark as it was picked, before anything is drawn.
if (localStorage.getItem("theme")) document.documentElement.dataset.theme = localStorage.getItem("theme");
