"""What moves on the page: pictures, controls, question blocks and the lesson that holds them."""
