// The window's entry.
const place = document.getElementById('window');
if (place !== null) place.textContent = 'Notchwise';
