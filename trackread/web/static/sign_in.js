// Somebody who comes from another site has not sent the cookie along: who has signed in already goes on at once.

const form = document.querySelector("form[data-next]");
const answer = await fetch("/api/me");
if (answer.ok && (await answer.json()).role) location.replace(form.dataset.next);
